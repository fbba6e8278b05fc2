/**
 * Outlines that `plan` fills in are turned the right way, read back from the file that it writes. A line patch resolves q = rλs/(2D)
 * with its width D along what it senses, ê = ℓ̂ × û; along its line ℓ̂ and across it it must hold two Fresnel zones, (L/2)²/(2λs) ≥ 2. Where a
 * wish is tight D is the longer side, and turned by a right angle it would not do; where the cube is far and the wish is loose neither is. mm.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { fillingOf } from '../../src/planning/filling.ts';
import { fillOpenPlaces } from '../../src/reading/scenario/fill-open-places.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import type { Patch } from '../../src/scenario/scenario.ts';
import { EXACT_BEAM, EXACT_LIGHT } from '../independent/exact-bench.ts';
import { dot, minus, normed, size, type Vector } from '../independent/ray.ts';
import { finished, openFrom, type Words } from './support/open-scenario.ts';

const LAMBDA = 632.8e-6;
const READABLE = 0.1;
const DEGREE = Math.PI / 180;

interface Wish {
  readonly cube: Vector;
  readonly centre: readonly [number, number];
  /** Of the part, degrees; its y is wished for, so that a line at this angle senses it. */
  readonly turned: number;
  /** µm */
  readonly wished: number;
  readonly lineAngle: string;
}

/** One cube, at the part's origin: its x and z are measured, its y is the patch's. */
const scenario = ({ cube, centre, turned, wished, lineAngle }: Wish): Words => {
  const [c, s] = [Math.cos(turned * DEGREE), Math.sin(turned * DEGREE)];
  return {
    format: 'datumlight/1',
    light: EXACT_LIGHT,
    interferometer: {
      ...EXACT_BEAM,
      focus: [0, 0, -500],
      fNumber: 3.2,
      pixelsAcrossBeam: 4000,
      readable: READABLE,
    },
    substrate: { outline: { circle: { diameter: 150 } }, edgeMargin: 3 },
    process: { placement: 0 },
    part: { origin: cube, rotation: [0, 0, turned] },
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: cube, nest: 0, centring: 0 }],
    patches: [{ id: 'p', reference: 'r', focus: 'line', centre, outline: 'auto', lineAngle }],
    measurements: [
      { id: 'x', reference: 'r', direction: [c, s, 0], uncertainty: '0.1 um' },
      { id: 'z', reference: 'r', direction: [0, 0, 1], uncertainty: '0.1 um' },
    ],
    wanted: { y: `${wished} um` },
  };
};

/** The patch as a user's check reads it from the file that plan fills in. */
function plannedPatch(wish: Wish): Patch {
  const text = JSON.stringify(scenario(wish));
  const { scenario: read, open } = openFrom(text);
  const plan = finished(read, open);
  expect(plan.reasons).toEqual([]);
  const filled = fillOpenPlaces(text, fillingOf(plan, open, ['r']))!;
  return readScenario(filled, 'filled.yaml').scenario!.patches[0]!;
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** How far the rectangle reaches along what it senses and along its line; and how far if it were turned by a right angle. */
function extents({ centre, outline, lineAngle }: Patch, cube: Vector) {
  if (outline.shape !== 'rectangle' || lineAngle === undefined) throw new Error('no line patch');
  expect([outline.centre[0], outline.centre[1]]).toEqual([centre[0], centre[1]]);
  const way = minus(cube, [centre[0], centre[1], 0]);
  const chief = normed(way);
  const drawn: Vector = [Math.cos(lineAngle), Math.sin(lineAngle), 0];
  const along = dot(drawn, chief);
  const line = normed(minus(drawn, [chief[0] * along, chief[1] * along, chief[2] * along]));
  const sensed = cross(line, chief);
  const reach = (direction: Vector, turn: number): number => {
    const [c, s] = [Math.cos(outline.rotation + turn), Math.sin(outline.rotation + turn)];
    return (
      outline.width * Math.abs(direction[0] * c + direction[1] * s) +
      outline.height * Math.abs(direction[1] * c - direction[0] * s)
    );
  };
  const quarter = Math.PI / 2;
  return {
    distance: size(way),
    sensed,
    across: reach(sensed, 0),
    along: reach(line, 0),
    acrossIfTurned: reach(sensed, quarter),
    alongIfTurned: reach(line, quarter),
  };
}

const CASES: readonly (readonly [string, Wish, longer: 'across' | 'neither'])[] = [
  [
    'a tight wish, the line given at 20°',
    { cube: [20, 30, 1000], centre: [20, 30], turned: 20, wished: 3, lineAngle: '20 deg' },
    'across',
  ],
  [
    'a tight wish, the line left open',
    { cube: [20, 30, 1000], centre: [20, 30], turned: 30, wished: 3, lineAngle: 'auto' },
    'across',
  ],
  [
    'a tight wish, seen aslant',
    { cube: [-250, 180, 1000], centre: [-30, 20], turned: 110, wished: 3, lineAngle: '110 deg' },
    'across',
  ],
  [
    'a loose wish at 4 m, the line given at 140°',
    { cube: [0, 40, 4000], centre: [0, 40], turned: 140, wished: 90, lineAngle: '140 deg' },
    'neither',
  ],
  [
    'a loose wish at 4 m, the line left open',
    { cube: [0, 40, 4000], centre: [0, 40], turned: 105, wished: 90, lineAngle: 'auto' },
    'neither',
  ],
];

describe.each(CASES)('%s', (_, wish, longer) => {
  let found: ReturnType<typeof extents>;
  beforeAll(() => {
    found = extents(plannedPatch(wish), wish.cube);
  });
  const resolved = (width: number): number => (READABLE * LAMBDA * found.distance * 1000) / (2 * width);
  const zones = (length: number): number => (length / 2) ** 2 / (2 * LAMBDA * found.distance);

  test('senses what is wished', () => {
    const y: Vector = [-Math.sin(wish.turned * DEGREE), Math.cos(wish.turned * DEGREE), 0];
    expect(Math.abs(dot(found.sensed, y))).toBeGreaterThan(0.95);
  });

  test('is wide enough across its line for the wish, and either way for diffraction', () => {
    expect(resolved(found.across)).toBeLessThan(wish.wished);
    for (const width of [found.along, found.across]) expect(zones(width)).toBeGreaterThan(2);
  });

  test(`has ${longer === 'across' ? 'its longer side across the line, and would not do with it the other way' : 'no longer side, and is no larger than the zones ask for'}`, () => {
    const { across, along } = found;
    if (longer === 'across') {
      expect(across).toBeGreaterThan(1.5 * along);
      expect(resolved(found.acrossIfTurned)).toBeGreaterThan(wish.wished);
    } else {
      expect(Math.abs(along / across - 1)).toBeLessThan(0.02);
      expect(zones(along)).toBeLessThan(2.4);
    }
  });
});
