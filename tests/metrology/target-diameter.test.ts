/**
 * Retroreflectors of another diameter than the scenario says, all of them: the difference and its standard uncertainty against a fit of seven
 * unknowns that shares no code with the program. Four balls in the outer corners of a block, each against two sides and the face, so that
 * nothing slides and all coordinates weigh alike. mm.
 */
import { describe, expect, it } from 'vitest';
import { type Frame, placeToParent, rotationFromAngles } from '../../src/geometry/frame.ts';
import { add, type Vec3 } from '../../src/geometry/vector.ts';
import { transfer } from '../../src/metrology/transfer/transfer.ts';
import { transferFindings } from '../../src/metrology/transfer/transfer-findings.ts';
import type { TrackedPoint } from '../../src/scenario/tracked-point.ts';
import { normalDeviates } from '../independent/random.ts';
import { rigidFit } from '../independent/rigid-fit.ts';
import { designFrom } from './support/design-from.ts';

const TRACKER: Frame = { origin: [1500, -2200, 300], rotation: rotationFromAngles([0.3, 1.2, -0.7]) };
const FACE = 1500;
const SAID = 38.1;
const SIGMA = 0.015;
/** With the apex's centring of common practice, ±6 µm, rectangular (no source). */
const U = Math.hypot(SIGMA, 0.006 / Math.sqrt(3));

const plane = (point: Vec3, normal: Vec3) => ({ plane: { point, normal } });
const DATUMS = {
  A: plane([0, 0, 0], [0, 0, -1]),
  E: plane([200, 0, 0], [1, 0, 0]),
  W: plane([-200, 0, 0], [-1, 0, 0]),
  N: plane([0, 150, 0], [0, 1, 0]),
  S: plane([0, -150, 0], [0, -1, 0]),
};
const CORNERS = [
  { id: 'en', sides: ['E', 'N'], way: [1, 1, -1] },
  { id: 'wn', sides: ['W', 'N'], way: [-1, 1, -1] },
  { id: 'ws', sides: ['W', 'S'], way: [-1, -1, -1] },
  { id: 'es', sides: ['E', 'S'], way: [1, -1, -1] },
] as const;
const HOLOGRAM: readonly Vec3[] = [
  [180, 150, 1000],
  [-170, 160, 900],
  [-190, -150, 1050],
];

/** The centre of a ball of this diameter in a corner. */
const centre = ([x, y, z]: Vec3, diameter: number): Vec3 => {
  const r = diameter / 2;
  return [x * (200 + r), y * (150 + r), FACE + z * r];
};

const towers = HOLOGRAM.map((at, k) => ({ id: `h${k}`, kind: 'smr', diameter: SAID, at }));
const design = designFrom({
  part: { origin: [0, 0, FACE], datums: DATUMS },
  references: [
    ...towers,
    ...CORNERS.map(({ id, sides }) => ({
      ...{ id, kind: 'smr', diameter: SAID },
      touches: ['A', ...sides].map((datum) => ({ datum })),
    })),
  ],
});

/** As the tracker finds balls of this diameter, the first corner off by `slip`. */
function tracked(diameter: number, slip: Vec3 = [0, 0, 0]): readonly TrackedPoint[] {
  const random = normalDeviates(5);
  const places = [
    ...HOLOGRAM.map((at, k) => ({ id: `h${k}`, at, side: 'hologram' as const })),
    ...CORNERS.map(({ id, way }, k) => {
      const at = centre(way, diameter);
      return { id, at: k === 0 ? add(at, slip) : at, side: 'part' as const };
    }),
  ];
  return places.map(({ id, at, side }) => {
    const [x, y, z] = placeToParent(TRACKER, at);
    const seen: Vec3 = [x + SIGMA * random(), y + SIGMA * random(), z + SIGMA * random()];
    return {
      name: id,
      reference: id,
      side,
      measured: { kind: 'cartesian', at: seen, sigma: [SIGMA, SIGMA, SIGMA] },
    };
  });
}

function made(points: readonly TrackedPoint[]) {
  const result = transfer(design, points);
  if ('findings' in result) throw new Error(JSON.stringify(result.findings));
  return { ...result.transfer, findings: transferFindings(result.transfer) };
}

describe('balls of another diameter in corners', () => {
  it.each([
    [
      12.7,
      /25\.4\d\d ± 0\.\d{3} mm smaller .*probably the retroreflectors are 12\.7 mm in diameter, not 38\.1 mm/,
    ],
    [22.225, /smaller .*probably the retroreflectors are 22\.225 mm/],
    [
      0,
      /smaller .*probably the table has points of the touched surface instead of the retroreflectors’ centres/,
    ],
    [37, /smaller in diameter than the scenario says$/],
    [40, /larger in diameter than the scenario says$/],
  ])('of %d mm are found with the difference and uncertainty of a fit apart', (diameter, words) => {
    const points = tracked(diameter);
    const { diameter: found, findings } = made(points);
    if (found?.found !== 'fitted') throw new Error('not found');
    const apart = rigidFit(
      CORNERS.map(({ way }) => centre(way, SAID)),
      points.slice(HOLOGRAM.length).map(({ measured }) => (measured as { at: Vec3 }).at),
      CORNERS.map(({ way }) => way),
      U,
    );
    // The place's uncertainty is turned with the part, which takes nothing from it: only rounding is left.
    expect(found.difference).toBeCloseTo(2 * apart.along, 6);
    expect(found.u / (2 * apart.uAlong)).toBeCloseTo(1, 3);
    expect(Math.abs(found.difference - (diameter - SAID))).toBeLessThan(4 * found.u);
    const [first, ...others] = findings;
    expect(first).toMatchObject({ severity: 'error', rule: 'wrong-target', where: 'en, wn, ws, es' });
    expect(first!.message).toMatch(words);
    for (const { follows } of others) expect(follows?.rule).toBe('wrong-target');
  });

  it('of the diameter that the scenario says are sound', () => {
    expect(made(tracked(SAID)).findings).toEqual([]);
  });

  it('one of which is off by itself have no other diameter', () => {
    const { diameter, findings } = made(tracked(SAID, [2, 0.5, 0]));
    expect(diameter).toBeUndefined();
    expect(findings[0]).toMatchObject({ rule: 'outlying-point', where: 'en' });
  });
});

/** Balls that touch the face alone, at these places of it. */
const flat = (kind: 'touches' | 'at') =>
  designFrom({
    part: { origin: [0, 0, FACE], datums: { A: DATUMS.A } },
    references: [
      ...towers,
      ...SPOTS.map(([x, y], k) => ({
        ...{ id: `p${k}`, kind: 'smr', diameter: SAID },
        ...(kind === 'touches' ? { touches: [{ datum: 'A', x, y }] } : { at: [x, y, FACE - SAID / 2] }),
      })),
    ],
  });
const SPOTS = [
  [200, 10],
  [-110, 180],
  [-90, -170],
] as const;

const onFace = (z: number): readonly TrackedPoint[] => {
  const point = (name: string, side: TrackedPoint['side'], at: Vec3): TrackedPoint => {
    const measured = { kind: 'cartesian', at: placeToParent(TRACKER, at), sigma: undefined } as const;
    return { name: `${name}@${side}`, reference: name, side, measured };
  };
  return [
    ...HOLOGRAM.map((at, k) => point(`h${k}`, 'hologram', at)),
    ...SPOTS.map(([x, y], k) => point(`p${k}`, 'part', [x, y, z])),
  ];
};

describe.each(['touches', 'at'] as const)(
  'on one face, placed by `%s`, where a move of the part looks the same',
  (kind) => {
    const found = (z: number) => {
      const result = transfer(flat(kind), onFace(z));
      if ('findings' in result) throw new Error(JSON.stringify(result.findings));
      return transferFindings(result.transfer).filter(({ rule }) => rule === 'wrong-target');
    };

    it.each([
      [
        'half the difference to a common diameter',
        12.7,
        /12\.7 mm off, and only 0 mm if the retroreflectors are 12\.7 mm/,
      ],
      ['the radius', 0, /19\.05 mm off, and only 0 mm if the table has points of the touched surface/],
    ])('a part off by %s is suspect', (_, diameter, words) => {
      const [warning, ...more] = found(FACE - diameter / 2);
      expect(warning).toMatchObject({ severity: 'warning' });
      expect(warning!.message).toMatch(words);
      expect(more).toEqual([]);
    });

    it.each([1, 5.5])('a part off by %d mm is not', (off) => {
      expect(found(FACE - SAID / 2 + off)).toEqual([]);
    });
  },
);
