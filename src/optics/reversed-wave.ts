/**
 * The eikonal of a wave that goes back the way another came: E = −E_of, mm, in the pattern plane. What a return ring sends to the
 * interferometer, so that Φ = −2E_in/(mλ): Littrow's condition at every point (M. Born, E. Wolf, Principles of Optics, §8.6.1).
 */
import type { Eikonal } from './eikonal.ts';

export const reversedWave = (of: Eikonal): Eikonal => ({
  accumulate: (xs, ys, scale, out, count) => of.accumulate(xs, ys, -scale, out, count),
  accumulateGradient: (xs, ys, scale, gx, gy, count) => of.accumulateGradient(xs, ys, -scale, gx, gy, count),
  accumulateWithGradient: (xs, ys, scale, out, gx, gy, count) =>
    of.accumulateWithGradient(xs, ys, -scale, out, gx, gy, count),
  curvatureBound: (within) => of.curvatureBound(within),
});
