/**
 * The eikonal in the pattern plane of a wave that is known in the air behind a plane slab: a ray leaves P with the lateral optical
 * cosines p that the slab keeps, and comes out at Q = P + p·t/√(n² − p²), where p must be those of the wave,
 *   E_out(P) = E_air(Q) − n²t/√(n² − p²)     ∂E_out/∂P = p.
 * Q is found by repeating that, which gains a factor of the wave's curvature times t/n a step. Without a slab Q = P. Lengths mm.
 * Source: Snell's law at faces square to z, Born & Wolf, Principles of Optics, §3.2.2.
 */
import type { AirWave } from './air-wave.ts';
import type { Eikonal } from './eikonal.ts';
import { slabCrossing } from './ray.ts';

/** mm: less than the rounding of a place on a substrate. */
const SETTLED = 1e-14;
/** A focus as near to the glass as the glass is thick takes some forty. */
const MOST_STEPS = 200;

/** Thickness `t` 0 means no slab; `n` is the index of the slab against the air around it. */
export function layeredWave(air: AirWave, t: number, n: number): Eikonal {
  const ray = (x: number, y: number): { readonly path: number; readonly px: number; readonly py: number } => {
    let [qx, qy] = [x, y];
    for (let step = 0; ; step++) {
      const { path, direction } = air.at([qx, qy, t]);
      const [px, py] = direction;
      if (t === 0) return { path, px, py };
      const slab = slabCrossing(px * px + py * py, t, n);
      const [nextX, nextY] = [x + px * slab.runPerCosine, y + py * slab.runPerCosine];
      const change = Math.abs(nextX - qx) + Math.abs(nextY - qy);
      if (change <= SETTLED * (1 + Math.abs(x) + Math.abs(y)) || step === MOST_STEPS)
        return { path: path - slab.path, px, py };
      [qx, qy] = [nextX, nextY];
    }
  };

  return {
    accumulate(xs, ys, scale, out, count) {
      for (let i = 0; i < count; i++) out[i] += scale * ray(xs[i], ys[i]).path;
    },

    accumulateGradient(xs, ys, scale, gx, gy, count) {
      for (let i = 0; i < count; i++) {
        const { px, py } = ray(xs[i], ys[i]);
        gx[i] += scale * px;
        gy[i] += scale * py;
      }
    },

    accumulateWithGradient(xs, ys, scale, out, gx, gy, count) {
      for (let i = 0; i < count; i++) {
        const { path, px, py } = ray(xs[i], ys[i]);
        out[i] += scale * path;
        gx[i] += scale * px;
        gy[i] += scale * py;
      }
    },

    /** That in air over all places where rays of the rectangle may leave the slab, which only flattens a diverging wave. */
    curvatureBound({ minX, maxX, minY, maxY }) {
      const run = t === 0 ? 0 : t / Math.sqrt(n * n - 1);
      const reach = Math.hypot(maxX - minX, maxY - minY) / 2 + run;
      const inAir = air.curvatureBound([(minX + maxX) / 2, (minY + maxY) / 2, t], reach);
      // dQ/dP = (1 + T·H)⁻¹ with H the lateral Hessian in air and T at most this.
      const spread = t === 0 ? 0 : (t * n * n) / ((n * n - 1) * Math.sqrt(n * n - 1));
      return spread * inAir < 1 ? inAir / (1 - spread * inAir) : Number.POSITIVE_INFINITY;
    },
  };
}
