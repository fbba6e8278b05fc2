/**
 * The eikonal of a wave that goes back the way another came: E = −E_of, mm, in the pattern plane. What a return ring sends to the
 * interferometer, so that Φ = −2E_in/(mλ): Littrow's condition at every point (M. Born, E. Wolf, Principles of Optics, §8.6.1).
 */
import type { Bounds } from '../geometry/extent.ts';
import type { Eikonal } from './eikonal.ts';

export class ReversedWave implements Eikonal {
  readonly #of: Eikonal;

  constructor(of: Eikonal) {
    this.#of = of;
  }

  accumulate(xs: Float64Array, ys: Float64Array, scale: number, out: Float64Array, count: number): void {
    this.#of.accumulate(xs, ys, -scale, out, count);
  }

  accumulateGradient(
    xs: Float64Array,
    ys: Float64Array,
    scale: number,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    this.#of.accumulateGradient(xs, ys, -scale, gx, gy, count);
  }

  accumulateWithGradient(
    xs: Float64Array,
    ys: Float64Array,
    scale: number,
    out: Float64Array,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    this.#of.accumulateWithGradient(xs, ys, -scale, out, gx, gy, count);
  }

  curvatureBound(within: Bounds): number {
    return this.#of.curvatureBound(within);
  }
}
