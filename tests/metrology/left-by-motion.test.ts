/**
 * `left_nm` of the report against first differences of traced wavefronts, for all six degrees, surfaces of different kinds and evaluations
 * that remove different terms: a ray of the null goes to the displaced surface, is mirrored there and comes back to the pattern, by code
 * that shares nothing with src/. nm for 1 µm and 1 µrad.
 */
import { describe, expect, it } from 'vitest';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { reportedTest } from '../../src/writing/report/reported-test.ts';
import { discPoints, evaluation } from '../independent/evaluated.ts';
import { displacedWavefront } from '../independent/null-traced.ts';
import { type Height, isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from './support/design-from.ts';

interface Traced {
  readonly what: string;
  readonly words: Words;
  readonly height: Height;
  readonly vertex?: readonly [number, number, number];
  readonly rotation?: readonly [number, number, number];
  readonly diameter: number;
  readonly centre: readonly [number, number];
}
const ORIGIN = [0, 0, 2600] as const;
const conic = (radius: number, kappa: number, terms: Record<number, number> = {}) => ({
  words: { radius, conic: kappa, terms },
  height: isoAsphere(radius, kappa, terms),
});
const base = isoAsphere(-2000, -1);

const TRACED: readonly Traced[] = [
  { what: 'a paraboloid', ...conic(-2000, -1), diameter: 500, centre: [0, 0] },
  {
    what: 'an off-axis hyperboloid with even terms, its vertex off the origin',
    ...conic(-2000, -1.5, { 4: 2e-12, 6: 1e-18 }),
    vertex: [5, -8, 30],
    diameter: 300,
    centre: [100, 30],
  },
  {
    what: 'an off-axis ellipsoid on a part turned by half a degree, and by 35 about its axis',
    ...conic(-2200, -0.6),
    vertex: [0, 0, 10],
    rotation: [0.4, -0.5, 35],
    diameter: 260,
    centre: [-60, 90],
  },
  {
    what: 'a freeform of powers of x and y',
    words: { radius: -2000, conic: -1, xy: { '2,1': 2e-9, '1,3': -1e-11 } },
    height: (x, y) => base(x, y) + 2e-9 * x * x * y - 1e-11 * x * y ** 3,
    diameter: 300,
    centre: [20, -30],
  },
];

type Orders = readonly (readonly [number, number])[];
const ORDERS: Readonly<Record<string, Orders>> = {
  piston: [[0, 0]],
  tilt: [
    [1, 1],
    [1, -1],
  ],
  power: [[2, 0]],
  astigmatism: [
    [2, 2],
    [2, -2],
  ],
  coma: [
    [3, 1],
    [3, -1],
  ],
  spherical: [[4, 0]],
};
const REMOVED = [
  ['piston'],
  ['piston', 'tilt'],
  ['piston', 'tilt', 'power'],
  ['piston', 'tilt', 'coma'],
  ['piston', 'power', 'astigmatism'],
  Object.keys(ORDERS),
];

/** Of the traced wavefronts' rms. */
const AGREES = 0.01;
/** What a trace's rounding leaves where there is nothing, nm. */
const ROUNDING = 1e-5;

describe.each(TRACED)('$what', ({ words, height, vertex = [0, 0, 0], rotation, diameter, centre }) => {
  const leftWith = (removed: readonly string[]) => {
    const asphere = { vertex, axis: [0, 0, 1], ...words };
    const design = designFrom({
      substrate: { outline: { circle: { diameter: 500 } }, thickness: 0 },
      part: { origin: ORIGIN, ...(rotation === undefined ? {} : { rotation }), datums: { M: { asphere } } },
      test: { surface: 'M', aperture: { circle: { diameter, centre } }, order: 1, removed },
    });
    return reportedTest(design)!.perMotion;
  };
  const points = discPoints(height, diameter / 2, centre);
  const standing = { height, vertex, origin: ORIGIN, ...(rotation === undefined ? {} : { rotation }) };
  const heights = DEGREES.map((degree, k) => {
    const step = degree.startsWith('r') ? 2e-6 : 2e-3;
    const waves = [1, -1].map((sign) => {
      const motion = [0, 0, 0, 0, 0, 0];
      motion[k] = sign * step;
      return points.map(({ x, y }) => displacedWavefront(standing, motion, x, y));
    });
    // Of a millimetre in nm for 1 µm; of a radian in mm, which is nm for 1 µrad.
    const unit = degree.startsWith('r') ? 1 : 1000;
    return waves[0]!.map((wave, at) => (unit * (wave - waves[1]![at]!)) / (4 * step));
  });

  it.each(REMOVED.map((removed) => [removed.join(', '), removed] as const))(
    'less %s leaves by each degree what traced wavefronts differ by, to 1 %%',
    (_, removed) => {
      const evaluated = evaluation(
        points,
        removed.flatMap((name) => ORDERS[name]!),
      );
      const found = leftWith(removed);
      DEGREES.forEach((degree, k) => {
        const [left, traced] = [found[degree].left_nm, evaluated(heights[k]!)];
        expect(Math.abs(left - traced), `${degree}: ${left} against ${traced} nm`).toBeLessThan(
          AGREES * traced + ROUNDING,
        );
      });
    },
  );
});
