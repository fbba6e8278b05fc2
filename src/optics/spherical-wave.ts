/**
 * The eikonal of a spherical wave in the pattern plane, straight or through the slab.
 *
 * E = sign · S(ρ), ρ the lateral distance from the wave's centre, S from layered-path.ts with b = `height`.
 * Without glass E = sign · √(ρ² + b²) carried with b's own sign:
 *   diverging from F      sign +1, b = −F_z (less the slab before)     E = +|P − F|
 *   converging to F       sign +1, b = −F_z < 0 (less the slab before) E = −|P − F|
 *   leaving toward C      sign −1, b = C_z (less the slab after)       E = −|P − C|
 * Source: Born & Wolf, Principles of Optics, 7th ed., §3.1 (the eikonal of a point source).
 */
import type { Vec2 } from '../geometry/vector.ts';
import type { Eikonal } from './eikonal.ts';
import { type Layer, layerOf, pathOfSlope, stationarySlope } from './layered-path.ts';

export class SphericalWave implements Eikonal {
  readonly #x: number;
  readonly #y: number;
  readonly #height: number;
  readonly #sign: 1 | -1;
  readonly #layer: Layer;

  /** `thickness` 0 means no slab; `index` is that of the slab against the air around it. */
  constructor(centre: Vec2, height: number, sign: 1 | -1, thickness: number, index: number) {
    [this.#x, this.#y] = centre;
    this.#height = height;
    this.#sign = sign;
    this.#layer = layerOf(thickness, index * index, 1);
  }

  accumulate(xs: Float64Array, ys: Float64Array, scale: number, out: Float64Array, count: number): void {
    const [x0, y0, b] = [this.#x, this.#y, this.#height];
    const layer = this.#layer;
    if (layer.t === 0) {
      const factor = scale * this.#sign * (b < 0 ? -1 : 1);
      const bb = b * b;
      for (let i = 0; i < count; i++) {
        const dx = xs[i] - x0;
        const dy = ys[i] - y0;
        out[i] += factor * Math.sqrt(dx * dx + dy * dy + bb);
      }
      return;
    }
    const factor = scale * this.#sign;
    for (let i = 0; i < count; i++) {
      const dx = xs[i] - x0;
      const dy = ys[i] - y0;
      const run = Math.sqrt(dx * dx + dy * dy);
      out[i] += factor * pathOfSlope(stationarySlope(run, b, layer), run, b, layer);
    }
  }

  accumulateGradient(
    xs: Float64Array,
    ys: Float64Array,
    scale: number,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    const b = this.#height;
    const layer = this.#layer;
    const onAxis = 1 / (b + layer.paraxial);
    for (let i = 0; i < count; i++) {
      const dx = xs[i] - this.#x;
      const dy = ys[i] - this.#y;
      const run = Math.sqrt(dx * dx + dy * dy);
      const slope = stationarySlope(run, b, layer);
      const cosinePerRun = run === 0 ? onAxis : slope / Math.sqrt(1 + slope * slope) / run;
      gx[i] += scale * this.#sign * cosinePerRun * dx;
      gy[i] += scale * this.#sign * cosinePerRun * dy;
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
    const [x0, y0, b] = [this.#x, this.#y, this.#height];
    const layer = this.#layer;
    const factor = scale * this.#sign;
    if (layer.t === 0) {
      const signed = b < 0 ? -factor : factor;
      const bb = b * b;
      for (let i = 0; i < count; i++) {
        const dx = xs[i] - x0;
        const dy = ys[i] - y0;
        const path = Math.sqrt(dx * dx + dy * dy + bb);
        const perPath = signed / path;
        out[i] += signed * path;
        gx[i] += perPath * dx;
        gy[i] += perPath * dy;
      }
      return;
    }
    const onAxis = 1 / (b + layer.paraxial);
    for (let i = 0; i < count; i++) {
      const dx = xs[i] - x0;
      const dy = ys[i] - y0;
      const run = Math.sqrt(dx * dx + dy * dy);
      const slope = stationarySlope(run, b, layer);
      const cosinePerRun = run === 0 ? onAxis : slope / (Math.sqrt(1 + slope * slope) * run);
      out[i] += factor * pathOfSlope(slope, run, b, layer);
      gx[i] += factor * cosinePerRun * dx;
      gy[i] += factor * cosinePerRun * dy;
    }
  }

  /**
   * S'' = (1 + x²)^(−3/2) / (b + t·G/w³), w² = G + (G − 1)x², is largest in magnitude on the axis, x = 0, whatever b's
   * sign; the tangential curvature S'/ρ is a mean of S'' from the axis outward, so no larger.
   */
  curvatureBound(): number {
    return 1 / Math.abs(this.#height + this.#layer.paraxial);
  }
}
