/**
 * Whether the lit outlines tell the camera's eight orientations apart, against whole pictures turned and compared pixel by pixel; and what
 * is to be done where they do not.
 */
import { describe, expect, test } from 'vitest';
import { orientationOf } from '../../src/metrology/camera/orientation-check.ts';
import { SIXTEEN, seenBy } from '../independent/camera-seen.ts';
import { designFrom, linePatch, pointPatch, type Words } from './support/design-from.ts';

type Place = readonly [number, number];

const HALF = 78.125;
const PIXELS = 251;
const DIAMETER = 14;

const balls = (centres: readonly Place[], screens: readonly Place[] = []): Words => ({
  references: [
    ...centres.map(([x, y], k) => ({
      id: `b${k + 1}`,
      kind: 'ball',
      diameter: 12.7,
      at: [1.2 * x, 1.2 * y, 130],
    })),
    ...screens.map(([x, y], k) => ({ id: `s${k + 1}`, kind: 'screen', at: [x, y, 300] })),
  ],
  patches: [
    ...centres.map((centre, k) => pointPatch(`b${k + 1}`, `b${k + 1}`, centre, DIAMETER)),
    ...screens.map((centre, k) => pointPatch(`s${k + 1}`, `s${k + 1}`, centre, DIAMETER)),
  ],
});

/** The picture from the interferometer: in each pixel whether a lit circle is there. */
const pictureOf = (centres: readonly Place[]): boolean[][] =>
  Array.from({ length: PIXELS }, (_, row) =>
    Array.from({ length: PIXELS }, (_, column) => {
      const x = -(column - (PIXELS - 1) / 2) * ((2 * HALF) / PIXELS);
      const y = ((PIXELS - 1) / 2 - row) * ((2 * HALF) / PIXELS);
      return centres.some(([cx, cy]) => Math.hypot(x - cx, y - cy) < DIAMETER / 2);
    }),
  );

/** Pixels lit in the first and dark in the second. */
const differ = (a: readonly (readonly boolean[])[], b: readonly (readonly boolean[])[]): number =>
  a.reduce((sum, row, k) => sum + row.filter((lit, j) => lit && !b[k]![j]).length, 0);

const DARK = pictureOf([]);

const CASES: readonly (readonly [string, readonly Place[]])[] = [
  [
    'three anywhere',
    [
      [50, 10],
      [-20, 40],
      [-30, -45],
    ],
  ],
  [
    'an isosceles triangle',
    [
      [0, 59],
      [-50, -30],
      [50, -30],
    ],
  ],
  [
    'a rectangle',
    [
      [45, 20],
      [-45, 20],
      [-45, -20],
      [45, -20],
    ],
  ],
  [
    'a square on the axes',
    [
      [50, 0],
      [0, 50],
      [-50, 0],
      [0, -50],
    ],
  ],
  [
    'a square in no mirror’s line',
    [
      [50, 15],
      [-15, 50],
      [-50, -15],
      [15, -50],
    ],
  ],
  [
    'two across',
    [
      [40, 20],
      [-40, -20],
    ],
  ],
  [
    'nearly a rectangle, by a third of a patch',
    [
      [45, 20],
      [-45, 20],
      [-45, -20],
      [45, -15],
    ],
  ],
  [
    'no longer a rectangle, by a patch',
    [
      [45, 20],
      [-45, 20],
      [-45, -20],
      [45, -6],
    ],
  ],
];

describe.each(CASES)('%s', (_, centres) => {
  const check = orientationOf(designFrom(balls(centres)));
  const plain = pictureOf(centres);
  /** No patch has half of its pixels where the other picture is dark. */
  const isLike = (turn: (typeof SIXTEEN)[number]): boolean =>
    centres.every((centre) => {
      const own = pictureOf([centre]);
      const turned = seenBy(turn, own);
      const whole = differ(own, DARK);
      return differ(turned, plain) < 0.5 * whole && differ(own, seenBy(turn, plain)) < 0.5 * whole;
    });

  test('the alike orientations are those whose pictures, turned as a whole, lie on each other', () => {
    const expected = SIXTEEN.filter(
      ({ view, turned, mirrored }) => view === 'interferometer' && (turned !== 0 || mirrored),
    ).filter(isLike);
    expect(check.alike).toEqual(expected);
  });

  test('the places of the patches to cover are together different in each of them', () => {
    const coveredIn = (turn: (typeof SIXTEEN)[number]): string =>
      check.cover
        .map(({ centre }) => {
          const lit = seenBy(turn, pictureOf([[centre[0], centre[1]]]));
          const at = lit.flatMap((row, k) => row.flatMap((on, j) => (on ? [[j, k] as const] : [])));
          // To the nearest patch and a half: places that an eye takes for two.
          return [0, 1]
            .map((k) => Math.round(at.reduce((sum, place) => sum + place[k]!, 0) / at.length / 10))
            .join(' ');
        })
        .join('; ');
    const turns = [SIXTEEN[0]!, ...check.alike];
    expect(new Set(turns.map(coveredIn)).size).toBe(turns.length);
    expect(check.settledBy).toBe(check.alike.length === 0 ? 'outlines' : 'cover');
    if (check.alike.length === 0) expect(check.cover).toEqual([]);
  });
});

test('screens are dark on the camera: they tell nothing apart', () => {
  const square: readonly Place[] = [
    [50, 0],
    [0, 50],
    [-50, 0],
    [0, -50],
  ];
  const with3 = orientationOf(
    designFrom(
      balls(square, [
        [40, 40],
        [-45, 10],
      ]),
    ),
  );
  expect(with3.alike).toEqual(orientationOf(designFrom(balls(square))).alike);
  expect(with3.alike).toHaveLength(7);
  expect(with3.cover.map(({ id }) => id)).not.toContain('s1');
});

describe('a patch about the centre, which stays in its place in each of the eight', () => {
  const alone = (patch: Words, kind: string) =>
    orientationOf(
      designFrom({ references: [{ id: 'r', kind, diameter: 12.7, at: [0, 3, 300] }], patches: [patch] }),
    );

  test('round and without a bias: a trial move shows a direction and no sign, so that a card is needed', () => {
    const check = alone(pointPatch('p', 'r', [0, 0], 30), 'ball');
    expect(check).toMatchObject({ cover: [], settledBy: 'card' });
    expect(check.alike).toHaveLength(7);
  });

  test('square, its one line along y: the trial move is along x', () => {
    const { trial, cover } = alone(linePatch('p', 'r', [0, 0], 90, 30), 'smr');
    expect(cover).toEqual([]);
    expect(Math.abs(trial!.sense.direction[0])).toBeCloseTo(1, 3);
  });
});
