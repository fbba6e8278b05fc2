/**
 * The eikonal of a plane wave in the pattern plane: E = k̂·P, mm. A slab square to z leaves the lateral direction cosines as
 * they are (Snell's law) and only adds a constant path. Source: Born & Wolf, Principles of Optics, 7th ed., §3.1.
 */
import type { Vec3 } from '../geometry/vector.ts';
import type { Eikonal } from './eikonal.ts';

export class PlaneWave implements Eikonal {
  readonly #kx: number;
  readonly #ky: number;

  /** `direction` is a unit vector in air. */
  constructor(direction: Vec3) {
    [this.#kx, this.#ky] = direction;
  }

  accumulate(xs: Float64Array, ys: Float64Array, scale: number, out: Float64Array, count: number): void {
    for (let i = 0; i < count; i++) out[i] += scale * (this.#kx * xs[i] + this.#ky * ys[i]);
  }

  accumulateGradient(
    _xs: Float64Array,
    _ys: Float64Array,
    scale: number,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    for (let i = 0; i < count; i++) {
      gx[i] += scale * this.#kx;
      gy[i] += scale * this.#ky;
    }
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
    this.accumulate(xs, ys, scale, out, count);
    this.accumulateGradient(xs, ys, scale, gx, gy, count);
  }

  curvatureBound(): number {
    return 0;
  }
}
