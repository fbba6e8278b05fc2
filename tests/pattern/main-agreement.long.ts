/**
 * The whole main pattern of a 90 mm aperture at a period of 3 µm: points drawn at random lie in a written line exactly where the normals
 * of the surface, followed back by code of the test's own, say so. A point that the path itself leaves open (2e-4 waves) or that lies
 * within the bound of an edge is not judged.
 */
import { expect, test } from 'vitest';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { followedBack, isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom } from '../metrology/support/design-from.ts';
import { agreement } from './point-agreement.ts';
import '../machine/patience.ts';

const GLASS = { thickness: 6.35, index: 1.457 };
const ORIGIN = [-105, 0, 300] as const;
const WAVELENGTH = 632.8e-6;
const [FOCUS, DUTY, POINTS] = [500, 0.5, 20_000];
/** mm: 5 nm of the tracing, and 2e-4 waves of a 3 µm period. */
const BOUND = 5e-6 + 2e-4 * 3e-3;

const main = designFrom({
  interferometer: { focus: [0, 0, -FOCUS] },
  substrate: { outline: { circle: { diameter: 150 } }, ...GLASS, patternFaces: 'interferometer' },
  part: {
    origin: ORIGIN,
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -800, conic: -1 } } },
  },
  test: { surface: 'M', aperture: { circle: { diameter: 134, centre: [161, 0] } }, margin: 0 },
}).main!;

const sheet = {
  height: isoAsphere(-800, -1),
  toSubstrate: ([x, y, z]: readonly number[]) => [x! + ORIGIN[0], y! + ORIGIN[1], z! + ORIGIN[2]] as const,
};

/** The phase at a place of the pattern up to a constant: its surface point by Newton's method on difference quotients. */
function phaseAt(px: number, py: number): number {
  let [x, y] = [161 + 1.5 * px, 1.5 * py];
  for (let k = 0; k < 30; k++) {
    const h = 1e-2;
    const [at, right, up] = [
      [x, y],
      [x + h, y],
      [x, y + h],
    ].map(([u, v]) => followedBack(sheet, u!, v!, GLASS).on) as [
      readonly [number, number],
      readonly [number, number],
      readonly [number, number],
    ];
    const [a, b] = [(right[0] - at[0]) / h, (up[0] - at[0]) / h];
    const [c, d] = [(right[1] - at[1]) / h, (up[1] - at[1]) / h];
    const [ex, ey] = [px - at[0], py - at[1]];
    if (Math.hypot(ex, ey) < 1e-10) break;
    x += (d * ex - b * ey) / (a * d - b * c);
    y += (a * ey - c * ex) / (a * d - b * c);
  }
  const { on, path } = followedBack(sheet, x, y, GLASS);
  return (-path - Math.hypot(on[0], on[1], FOCUS)) / WAVELENGTH;
}

test('none of the points is wrong', () => {
  const zero = phaseAt(...main.centre);
  const exact = {
    phases: (xs: Float64Array, ys: Float64Array) => xs.map((x, k) => phaseAt(x, ys[k]!) - zero),
    gradients: (xs: Float64Array, ys: Float64Array) => main.phase.gradients(xs, ys),
  };
  const zones = tracePattern(main, { dutyCycle: DUTY }).zones();
  const { wrong, inside, near } = agreement(main.outline, exact, zones, DUTY, BOUND, POINTS);
  expect(wrong).toEqual([]);
  expect(inside / POINTS).toBeCloseTo(DUTY, 1);
  expect(near).toBeLessThan(0.01 * POINTS);
});
