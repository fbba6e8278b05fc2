/**
 * The eikonal of a spherical wave in the pattern plane, straight or through the slab.
 *
 * E = sign · S(ρ), ρ the lateral distance from the wave's centre, S from layered-path.ts with b = `height`.
 * Without glass E = sign · √(ρ² + b²) carried with b's own sign:
 *   diverging from F      sign +1, b = −F_z (less the slab before)     E = +|P − F|
 *   converging to F       sign +1, b = −F_z < 0 (less the slab before) E = −|P − F|
 *   leaving toward C      sign −1, b = C_z (less the slab after)       E = −|P − C|
 * Source: Born & Wolf, Principles of Optics, 7th ed., §3.1 (the eikonal of a point source).
 */
import type { Vec2 } from '../geometry/vector.ts';
import type { Eikonal } from './eikonal.ts';
import { layerOf, pathOfSlope, stationarySlope } from './layered-path.ts';

/** `b` is the height, signed; `thickness` 0 means no slab; `index` is that of the slab against the air around it. */
export function sphericalWave(
  [x0, y0]: Vec2,
  b: number,
  sign: 1 | -1,
  thickness: number,
  index: number,
): Eikonal {
  const layer = layerOf(thickness, index * index, 1);
  // Each loop below takes these into variables of its own: read through the closure they cost it a fifth of its speed.
  const form = { x0, y0, b, sign, layer, onAxis: 1 / (b + layer.paraxial) };
  return {
    accumulate(xs, ys, scale, out, count) {
      const { x0, y0, b, sign, layer } = form;
      if (layer.t === 0) {
        const factor = scale * sign * (b < 0 ? -1 : 1);
        const bb = b * b;
        for (let i = 0; i < count; i++) {
          const dx = xs[i] - x0;
          const dy = ys[i] - y0;
          out[i] += factor * Math.sqrt(dx * dx + dy * dy + bb);
        }
        return;
      }
      const factor = scale * sign;
      for (let i = 0; i < count; i++) {
        const dx = xs[i] - x0;
        const dy = ys[i] - y0;
        const run = Math.sqrt(dx * dx + dy * dy);
        out[i] += factor * pathOfSlope(stationarySlope(run, b, layer), run, b, layer);
      }
    },

    accumulateGradient(xs, ys, scale, gx, gy, count) {
      const { x0, y0, b, sign, layer, onAxis } = form;
      const factor = scale * sign;
      for (let i = 0; i < count; i++) {
        const dx = xs[i] - x0;
        const dy = ys[i] - y0;
        const run = Math.sqrt(dx * dx + dy * dy);
        const slope = stationarySlope(run, b, layer);
        const cosinePerRun = run === 0 ? onAxis : slope / Math.sqrt(1 + slope * slope) / run;
        gx[i] += factor * cosinePerRun * dx;
        gy[i] += factor * cosinePerRun * dy;
      }
    },

    accumulateWithGradient(xs, ys, scale, out, gx, gy, count) {
      const { x0, y0, b, sign, layer, onAxis } = form;
      const factor = scale * sign;
      if (layer.t === 0) {
        const signed = b < 0 ? -factor : factor;
        const bb = b * b;
        for (let i = 0; i < count; i++) {
          const dx = xs[i] - x0;
          const dy = ys[i] - y0;
          const path = Math.sqrt(dx * dx + dy * dy + bb);
          const perPath = signed / path;
          out[i] += signed * path;
          gx[i] += perPath * dx;
          gy[i] += perPath * dy;
        }
        return;
      }
      for (let i = 0; i < count; i++) {
        const dx = xs[i] - x0;
        const dy = ys[i] - y0;
        const run = Math.sqrt(dx * dx + dy * dy);
        const slope = stationarySlope(run, b, layer);
        const cosinePerRun = run === 0 ? onAxis : slope / (Math.sqrt(1 + slope * slope) * run);
        out[i] += factor * pathOfSlope(slope, run, b, layer);
        gx[i] += factor * cosinePerRun * dx;
        gy[i] += factor * cosinePerRun * dy;
      }
    },

    /**
     * S'' = (1 + x²)^(−3/2) / (b + t·G/w³), w² = G + (G − 1)x², is largest in magnitude on the axis, x = 0, whatever b's
     * sign; the tangential curvature S'/ρ is a mean of S'' from the axis outward, so no larger.
     */
    curvatureBound: () => Math.abs(form.onAxis),
  };
}
