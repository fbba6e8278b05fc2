/**
 * The eikonal of a wave leaving the pattern toward a line focus through A along ℓ̂, straight or through the slab after it.
 *
 * Every ray k̂ is square to ℓ̂. With ê₂ the lateral unit vector square to ℓ̂ and ê₁ = ℓ̂ × ê₂ (turned so that it points
 * forward), k̂ = s·ê₂ + √(1 − s²)·ê₁, and with d = A − P
 *   a = d·ê₂      b = d·ê₁ − t·ê₁z      q = ê₁z²      G = n² − (1 − q)
 * makes the path that of layered-path.ts: a line that is tilted to the slab costs no second unknown. E_out = −S, and without
 * glass E_out = −√(a² + b²) = −|d − (d·ℓ̂)ℓ̂|. Lateral direction cosines of the ray: ∂E/∂P = s·ê₂ + √(1 − s²)·ê₁.
 * Source: Born & Wolf, Principles of Optics, 7th ed., §3.1 and §4.1; the reduction to one unknown is derived above.
 */
import { cross, negate, type Vec3 } from '../geometry/vector.ts';
import type { Eikonal } from './eikonal.ts';
import { layerOf, pathOfSlope, stationarySlope } from './layered-path.ts';

/** `line` is a unit vector; `thickness` 0 means no slab after the pattern. */
export function cylindricalWave(target: Vec3, line: Vec3, thickness: number, index: number): Eikonal {
  const lateral = Math.sqrt(line[0] * line[0] + line[1] * line[1]);
  const across: Vec3 = lateral === 0 ? [1, 0, 0] : [-line[1] / lateral, line[0] / lateral, 0];
  const normal = cross(line, across);
  const [ax, ay] = across;
  const [fx, fy, fz] = normal[2] < 0 ? negate(normal) : normal;
  const q = fz * fz;
  // a and b at the substrate's origin.
  const a0 = ax * target[0] + ay * target[1];
  const b0 = fx * target[0] + fy * target[1] + fz * (target[2] - thickness);
  // Each loop below takes these into variables of its own: read through the closure they cost it a fifth of its speed.
  const form = { ax, ay, a0, fx, fy, b0, layer: layerOf(thickness, index * index - (1 - q), q) };
  return {
    accumulate(xs, ys, scale, out, count) {
      const { ax, ay, a0, fx, fy, b0, layer } = form;
      if (layer.t === 0) {
        for (let i = 0; i < count; i++) {
          const a = a0 - ax * xs[i] - ay * ys[i];
          const b = b0 - fx * xs[i] - fy * ys[i];
          out[i] -= scale * Math.sqrt(a * a + b * b);
        }
        return;
      }
      for (let i = 0; i < count; i++) {
        const a = a0 - ax * xs[i] - ay * ys[i];
        const b = b0 - fx * xs[i] - fy * ys[i];
        out[i] -= scale * pathOfSlope(stationarySlope(a, b, layer), a, b, layer);
      }
    },

    accumulateGradient(xs, ys, scale, gx, gy, count) {
      const { ax, ay, a0, fx, fy, b0, layer } = form;
      for (let i = 0; i < count; i++) {
        const a = a0 - ax * xs[i] - ay * ys[i];
        const b = b0 - fx * xs[i] - fy * ys[i];
        const slope = stationarySlope(a, b, layer);
        const forward = scale / Math.sqrt(1 + slope * slope);
        gx[i] += forward * (slope * ax + fx);
        gy[i] += forward * (slope * ay + fy);
      }
    },

    accumulateWithGradient(xs, ys, scale, out, gx, gy, count) {
      const { ax, ay, a0, fx, fy, b0, layer } = form;
      if (layer.t === 0) {
        for (let i = 0; i < count; i++) {
          const a = a0 - ax * xs[i] - ay * ys[i];
          const b = b0 - fx * xs[i] - fy * ys[i];
          const path = Math.sqrt(a * a + b * b);
          const perPath = scale / path;
          out[i] -= scale * path;
          gx[i] += perPath * (a * ax + b * fx);
          gy[i] += perPath * (a * ay + b * fy);
        }
        return;
      }
      for (let i = 0; i < count; i++) {
        const a = a0 - ax * xs[i] - ay * ys[i];
        const b = b0 - fx * xs[i] - fy * ys[i];
        const slope = stationarySlope(a, b, layer);
        const forward = scale / Math.sqrt(1 + slope * slope);
        out[i] -= scale * pathOfSlope(slope, a, b, layer);
        gx[i] += forward * (slope * ax + fx);
        gy[i] += forward * (slope * ay + fy);
      }
    },

    /**
     * The second derivatives in (a, b) are ∂s/∂a · (1, −x)⊗(1, −x), ∂s/∂a = (1 + x²)^(−3/2) / (b + t·q·G/w³): no larger
     * along any direction than 1/b, and b is least at a corner. Infinity where the line's plane meets the rectangle.
     */
    curvatureBound({ minX, minY, maxX, maxY }) {
      const least = b0 - Math.max(fx * minX, fx * maxX) - Math.max(fy * minY, fy * maxY);
      return least > 0 ? 1 / least : Number.POSITIVE_INFINITY;
    },
  };
}
