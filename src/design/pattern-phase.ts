/**
 * The phase Φ of one patch in waves at order 1: E_out = E_in + m λ Φ, Φ = 0 at `zeroAt` before the bias: the patch's centre.
 *
 * A ring's centre may lie on the axis of its cone or torus. Φ has a kink there, but a value, which is its zero all the same. Only
 * where glass after the pattern lets no ray leave the centre (optics/layered-wave.ts) does Φ count from a point of the ring's edge
 * (phase-zero.ts). All files take Φ from here, and state a zero that is not the centre: writing/convention.ts.
 * Its gradient is in waves/mm, in closed form; the local period is 1/|∇Φ|, mm.
 */
import type { Bounds } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { type Bias, BiasPhase } from '../optics/bias.ts';
import type { Eikonal } from '../optics/eikonal.ts';

/** Points worked on at once: arrays of this length stay in a second-level cache, and slicing them costs nothing beside the work. */
const CHUNK = 4096;

export class PatternPhase {
  readonly #incident: Eikonal;
  readonly #leaving: Eikonal;
  /** 1/(mλ), waves per mm of path. */
  readonly #scale: number;
  readonly #bias: Bias | undefined;
  readonly #biasPhase: BiasPhase | undefined;
  /** Where Φ is 0 before the bias, mm. */
  readonly zeroAt: Vec2;
  /** What [E_out − E_in]/(mλ) is there, waves. */
  readonly #atZero: number;
  readonly #one = {
    x: new Float64Array(1),
    y: new Float64Array(1),
    a: new Float64Array(1),
    b: new Float64Array(1),
  };

  constructor(
    incident: Eikonal,
    leaving: Eikonal,
    order: number,
    wavelength: number,
    zeroAt: Vec2,
    bias: Bias | undefined,
  ) {
    this.#incident = incident;
    this.#leaving = leaving;
    this.#scale = 1 / (order * wavelength);
    this.zeroAt = zeroAt;
    const out = new Float64Array(1);
    const [x, y] = [Float64Array.of(zeroAt[0]), Float64Array.of(zeroAt[1])];
    incident.accumulate(x, y, -this.#scale, out, 1);
    leaving.accumulate(x, y, this.#scale, out, 1);
    this.#atZero = out[0];
    this.#bias = bias;
    this.#biasPhase = bias && new BiasPhase(bias);
  }

  /** Φ at each point, waves, into `out` (made here if not given, as long as `xs`). */
  phases(xs: Float64Array, ys: Float64Array, out: Float64Array = new Float64Array(xs.length)): Float64Array {
    for (let start = 0; start < xs.length; start += CHUNK) {
      const count = Math.min(CHUNK, xs.length - start);
      const x = xs.subarray(start, start + count);
      const y = ys.subarray(start, start + count);
      const part = out.subarray(start, start + count);
      part.fill(-this.#atZero);
      this.#incident.accumulate(x, y, -this.#scale, part, count);
      this.#leaving.accumulate(x, y, this.#scale, part, count);
      this.#biasPhase?.accumulate(x, y, part, count);
    }
    return out;
  }

  /** ∇Φ at each point, waves/mm, added to `gx` and `gy`. On a roof's ridge: that of the side where the bias's w > 0. */
  gradients(
    xs: Float64Array,
    ys: Float64Array,
    gx: Float64Array = new Float64Array(xs.length),
    gy: Float64Array = new Float64Array(xs.length),
  ): { gx: Float64Array; gy: Float64Array } {
    this.#incident.accumulateGradient(xs, ys, -this.#scale, gx, gy, xs.length);
    this.#leaving.accumulateGradient(xs, ys, this.#scale, gx, gy, xs.length);
    this.#biasPhase?.accumulateGradient(xs, ys, gx, gy, xs.length);
    return { gx, gy };
  }

  /** Φ and ∇Φ at each of the first `count` points, into `out`, `gx` and `gy`: one ray a point and wave. */
  evaluate(
    xs: Float64Array,
    ys: Float64Array,
    out: Float64Array,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    for (let i = 0; i < count; i++) {
      out[i] = -this.#atZero;
      gx[i] = 0;
      gy[i] = 0;
    }
    this.#incident.accumulateWithGradient(xs, ys, -this.#scale, out, gx, gy, count);
    this.#leaving.accumulateWithGradient(xs, ys, this.#scale, out, gx, gy, count);
    this.#biasPhase?.accumulate(xs, ys, out, count);
    this.#biasPhase?.accumulateGradient(xs, ys, gx, gy, count);
  }

  /** No second derivative of Φ along any direction in the rectangle is larger in magnitude, waves/mm²; a ridge aside. */
  curvatureBound(within: Bounds): number {
    const waves = this.#incident.curvatureBound(within) + this.#leaving.curvatureBound(within);
    return Math.abs(this.#scale) * waves;
  }

  /** This phase as it is on one side of a roof's ridge (w > 0 or w < 0), continued smoothly past it. */
  onSide(side: 1 | -1): PatternPhase {
    const bias = this.#bias;
    if (bias?.shape !== 'roof') return this;
    const tilt: Bias = { ...bias, shape: 'tilt', amplitude: side * bias.amplitude };
    return new PatternPhase(this.#incident, this.#leaving, 1, 1 / this.#scale, this.zeroAt, tilt);
  }

  phase(x: number, y: number): number {
    const one = this.#one;
    one.x[0] = x;
    one.y[0] = y;
    return this.phases(one.x, one.y, one.a)[0];
  }

  gradient(x: number, y: number): Vec2 {
    const one = this.#one;
    one.x[0] = x;
    one.y[0] = y;
    one.a[0] = 0;
    one.b[0] = 0;
    this.gradients(one.x, one.y, one.a, one.b);
    return [one.a[0], one.b[0]];
  }

  /** Local period, mm; Infinity where the phase is stationary. */
  period(x: number, y: number): number {
    const [gx, gy] = this.gradient(x, y);
    return 1 / Math.sqrt(gx * gx + gy * gy);
  }
}
