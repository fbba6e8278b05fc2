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

/** A ray of a wave at a place: E there, mm, and its lateral direction cosines ∂E/∂x and ∂E/∂y. NaN where no ray goes. */
export interface WaveRay {
  path: number;
  px: number;
  py: number;
}

/** The eikonal of a wave whose ray through a point `trace` finds: it fills `ray`, always the same object, millions of times. */
export function tracedEikonal(
  trace: (x: number, y: number, ray: WaveRay) => void,
  curvatureBound: Eikonal['curvatureBound'],
): Eikonal {
  const ray: WaveRay = { path: 0, px: 0, py: 0 };
  return {
    accumulate(xs, ys, scale, out, count) {
      for (let i = 0; i < count; i++) {
        trace(xs[i], ys[i], ray);
        out[i] += scale * ray.path;
      }
    },

    accumulateGradient(xs, ys, scale, gx, gy, count) {
      for (let i = 0; i < count; i++) {
        trace(xs[i], ys[i], ray);
        gx[i] += scale * ray.px;
        gy[i] += scale * ray.py;
      }
    },

    accumulateWithGradient(xs, ys, scale, out, gx, gy, count) {
      for (let i = 0; i < count; i++) {
        trace(xs[i], ys[i], ray);
        out[i] += scale * ray.path;
        gx[i] += scale * ray.px;
        gy[i] += scale * ray.py;
      }
    },

    curvatureBound,
  };
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
