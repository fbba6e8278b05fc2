/**
 * An eikonal: the optical path E(x, y) of a wave at points of the pattern plane z = 0, in mm, growing along the light.
 * Batches work on typed arrays in chunks small enough for the cache; `scale` and accumulation let a phase be summed from
 * several waves without an array between them.
 */
import type { Bounds } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';

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

const ONE = {
  x: new Float64Array(1),
  y: new Float64Array(1),
  a: new Float64Array(1),
  b: new Float64Array(1),
};

/** E at one point, mm. */
export function pathAt(wave: Eikonal, x: number, y: number): number {
  [ONE.x[0], ONE.y[0], ONE.a[0]] = [x, y, 0];
  wave.accumulate(ONE.x, ONE.y, 1, ONE.a, 1);
  return ONE.a[0];
}

/** ∇E at one point. */
export function gradientAt(wave: Eikonal, x: number, y: number): Vec2 {
  [ONE.x[0], ONE.y[0], ONE.a[0], ONE.b[0]] = [x, y, 0, 0];
  wave.accumulateGradient(ONE.x, ONE.y, 1, ONE.a, ONE.b, 1);
  return [ONE.a[0], ONE.b[0]];
}
