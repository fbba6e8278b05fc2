/**
 * The whole main pattern of a 90 mm aperture at a period of 3 µm: points drawn at random lie in a written line exactly where the normals
 * of the surface, followed back by code of the test's own, say so. A point that the path itself leaves open (2e-4 waves) or that lies
 * within the bound of an edge is not judged.
 */
import { expect, test } from 'vitest';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { surfacePhase } from '../independent/surface-phase.ts';
import { isoAsphere } from '../independent/surface-sheets.ts';
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

test('none of the points is wrong', () => {
  const bench = { wavelength: WAVELENGTH, focus: [0, 0, -FOCUS], glass: GLASS } as const;
  const phaseAt = surfacePhase(sheet, bench, [161, 0], main.centre);
  const exact = {
    phases: (xs: Float64Array, ys: Float64Array) => xs.map((x, k) => phaseAt(x, ys[k]!)),
    gradients: (xs: Float64Array, ys: Float64Array) => main.phase.gradients(xs, ys),
  };
  const zones = tracePattern(main, { dutyCycle: DUTY }).zones();
  const { wrong, inside, near } = agreement(main.outline, exact, zones, DUTY, BOUND, POINTS);
  expect(wrong).toEqual([]);
  expect(inside / POINTS).toBeCloseTo(DUTY, 1);
  expect(near).toBeLessThan(0.01 * POINTS);
});
