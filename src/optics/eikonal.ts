/**
 * An eikonal: the optical path E(x, y) of a wave at points of the pattern plane z = 0, in mm, growing along the light.
 * Batches work on typed arrays in chunks small enough for the cache; `scale` and accumulation let a phase be summed from
 * several waves without an array between them.
 */
import type { Bounds } from '../geometry/extent.ts';

export interface Eikonal {
  /** out[i] += scale · E(xs[i], ys[i]), for i < count. */
  accumulate(xs: Float64Array, ys: Float64Array, scale: number, out: Float64Array, count: number): void;
  /** gx[i] += scale · ∂E/∂x, gy[i] += scale · ∂E/∂y: the wave's lateral direction cosines, without unit. */
  accumulateGradient(
    xs: Float64Array,
    ys: Float64Array,
    scale: number,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void;
  /** Both of the above at once, from one ray a point: cheaper than one after the other. */
  accumulateWithGradient(
    xs: Float64Array,
    ys: Float64Array,
    scale: number,
    out: Float64Array,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void;
  /** No second derivative of E along any direction, at any point of the rectangle, is larger in magnitude, 1/mm. */
  curvatureBound(within: Bounds): number;
}
