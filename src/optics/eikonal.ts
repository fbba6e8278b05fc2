/**
 * An eikonal: the optical path E(x, y) of a wave at points of the pattern plane z = 0, in mm, growing along the light.
 * Batches work on typed arrays in chunks small enough for the cache; `scale` and accumulation let a phase be summed from
 * several waves without an array between them.
 */
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
}
