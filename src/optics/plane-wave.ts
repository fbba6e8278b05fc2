/**
 * The eikonal of a plane wave in the pattern plane: E = k̂·P, mm. A slab square to z leaves the lateral direction cosines as
 * they are (Snell's law) and only adds a constant path. Source: Born & Wolf, Principles of Optics, 7th ed., §3.1.
 */
import type { Vec3 } from '../geometry/vector.ts';
import type { Eikonal } from './eikonal.ts';

/** The direction is a unit vector in air. */
export const planeWave = ([kx, ky]: Vec3): Eikonal => ({
  accumulate(xs, ys, scale, out, count) {
    for (let i = 0; i < count; i++) out[i] += scale * (kx * xs[i] + ky * ys[i]);
  },

  accumulateGradient(_xs, _ys, scale, gx, gy, count) {
    for (let i = 0; i < count; i++) {
      gx[i] += scale * kx;
      gy[i] += scale * ky;
    }
  },

  accumulateWithGradient(xs, ys, scale, out, gx, gy, count) {
    this.accumulate(xs, ys, scale, out, count);
    this.accumulateGradient(xs, ys, scale, gx, gy, count);
  },

  curvatureBound: () => 0,
});
