/**
 * A deliberate bias of a patch's phase, in waves at order 1: what the fringes at the design place are made of.
 *
 * With w = (x − x₀)·d_x + (y − y₀)·d_y, the run from the bias's centre along the bias's direction (mm):
 *   tilt  B = amplitude · w / reach        roof  B = amplitude · |w| / reach
 * The pattern is crossed twice, so N fringes on the camera need N/(2m) waves in the phase.
 * Source: derived from the double passage, Φ(P) + Φ(P*), in round-trip.ts; a test traces it.
 */
import type { Vec2 } from '../geometry/vector.ts';

export interface Bias {
  readonly shape: 'roof' | 'tilt';
  /** Fringes asked for on the camera: of a roof from ridge to edge, of a tilt from edge to edge. */
  readonly fringes: number;
  /** Where w = 0: the patch's centre, or a point of a roof's ridge. */
  readonly centre: Vec2;
  /** In the pattern plane; need not be a unit vector (a line's direction seen in the plane is shorter). */
  readonly direction: Vec2;
  /** The bias at w = reach, waves at order 1, signed. */
  readonly amplitude: number;
  /** mm along `direction`: largest |w| in the patch for a roof, the whole width for a tilt. */
  readonly reach: number;
}

/**
 * B and ∇B of one bias, taken over and over. Its numbers stand in a typed array: V8 keeps a field that has held only whole numbers as an
 * integer, and throws compiled code away when another bias brings a fraction there.
 */
export class BiasPhase {
  readonly #isRoof: boolean;
  /** Slope along +w, waves/mm; the direction; w at the origin, the sign turned. */
  readonly #numbers: Float64Array;

  constructor({ shape, centre, direction, amplitude, reach }: Bias) {
    const [dx, dy] = direction;
    this.#isRoof = shape === 'roof';
    this.#numbers = Float64Array.of(amplitude / reach, dx, dy, dx * centre[0] + dy * centre[1]);
  }

  /** out[i] += B(xs[i], ys[i]), waves, of the first `count` points. */
  accumulate(xs: Float64Array, ys: Float64Array, out: Float64Array, count: number): void {
    const isRoof = this.#isRoof;
    const slope = this.#numbers[0];
    const dx = this.#numbers[1];
    const dy = this.#numbers[2];
    const w0 = this.#numbers[3];
    for (let i = 0; i < count; i++) {
      const w = dx * xs[i] + dy * ys[i] - w0;
      out[i] += slope * (isRoof ? Math.abs(w) : w);
    }
  }

  /** gx, gy += ∇B, waves/mm; on the ridge of a roof that of the side where w > 0. */
  accumulateGradient(
    xs: Float64Array,
    ys: Float64Array,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    const isRoof = this.#isRoof;
    const slope = this.#numbers[0];
    const dx = this.#numbers[1];
    const dy = this.#numbers[2];
    const w0 = this.#numbers[3];
    for (let i = 0; i < count; i++) {
      const falling = isRoof && dx * xs[i] + dy * ys[i] < w0;
      gx[i] += falling ? -slope * dx : slope * dx;
      gy[i] += falling ? -slope * dy : slope * dy;
    }
  }
}
