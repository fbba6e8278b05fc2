/**
 * Rings around the axis of a cone: Φ = ρ·SLOPE waves, written down here from the geometry (mm, waves/mm). The axis, where the
 * phase has a kink, lies in the hole of the ring, centred or not. A point is judged unless it is within the bound of an edge.
 */
import { expect, test } from 'vitest';
import type { SmoothPhase } from '../../src/pattern/smooth-phase.ts';
import { traceOutline } from '../../src/pattern/trace-pattern.ts';
import { agreement } from './point-agreement.ts';

const SLOPE = 20;
const AXIS = [0.3, -0.2] as const;
const POINTS = 4000;

const conical: SmoothPhase = {
  evaluate(xs, ys, phase, gx, gy, count) {
    for (let i = 0; i < count; i++) {
      const [x, y] = [xs[i]! - AXIS[0], ys[i]! - AXIS[1]];
      const rho = Math.hypot(x, y);
      phase[i] = SLOPE * rho;
      gx[i] = (SLOPE * x) / rho;
      gy[i] = (SLOPE * y) / rho;
    }
  },
  curvatureBound({ minX, maxX, minY, maxY }) {
    const reach = Math.hypot(maxX - minX, maxY - minY) / 2;
    const least = Math.hypot((minX + maxX) / 2 - AXIS[0], (minY + maxY) / 2 - AXIS[1]) - reach;
    return least > 0 ? SLOPE / least : Number.POSITIVE_INFINITY;
  },
};
const exact = {
  phases: (xs: Float64Array, ys: Float64Array) =>
    Float64Array.from(xs, (x, i) => SLOPE * Math.hypot(x - AXIS[0], ys[i]! - AXIS[1])),
  gradients: (xs: Float64Array, ys: Float64Array) => ({
    gx: Float64Array.from(xs, (x, i) => (SLOPE * (x - AXIS[0])) / Math.hypot(x - AXIS[0], ys[i]! - AXIS[1])),
    gy: Float64Array.from(
      xs,
      (x, i) => (SLOPE * (ys[i]! - AXIS[1])) / Math.hypot(x - AXIS[0], ys[i]! - AXIS[1]),
    ),
  }),
};
const ring = (centre: readonly [number, number], inner: number) =>
  ({ shape: 'ring', centre, inner, outer: 5 }) as const;

test.each([
  ['centred on the axis', ring(AXIS, 2)],
  ['decentred', ring([0, 0], 2)],
  ['narrow', ring(AXIS, 4.5)],
])('a ring %s around the axis of a cone is written as its phase says', (_, outline) => {
  const trace = traceOutline({ outline, phase: conical }, { dutyCycle: 0.4 });
  const found = agreement(outline, exact, trace.zones(), 0.4, trace.bound, POINTS);
  expect(found.wrong).toEqual([]);
  expect(found.inside).toBeGreaterThan(0.3 * POINTS);
  expect(found.near).toBeLessThan(0.02 * POINTS);
  expect(trace.worst).toBeLessThanOrEqual(trace.bound);
});

test('a disc that holds the axis of a cone is refused', () => {
  const outline = { shape: 'circle', centre: AXIS, radius: 5 } as const;
  expect(() => traceOutline({ outline, phase: conical }, { dutyCycle: 0.4 })).toThrow(
    /axis of a cone or a torus/,
  );
});
