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

/** Slope of the bias along +w, waves/mm. */
const slopeOf = (bias: Bias): number => bias.amplitude / bias.reach;

/** out[i] += B(xs[i], ys[i]), waves. */
export function accumulateBias(
  bias: Bias,
  xs: Float64Array,
  ys: Float64Array,
  out: Float64Array,
  count: number,
): void {
  const slope = slopeOf(bias);
  const [dx, dy] = bias.direction;
  const w0 = dx * bias.centre[0] + dy * bias.centre[1];
  const folded = bias.shape === 'roof';
  for (let i = 0; i < count; i++) {
    const w = dx * xs[i] + dy * ys[i] - w0;
    out[i] += slope * (folded ? Math.abs(w) : w);
  }
}

/** gx, gy += ∇B, waves/mm; on the ridge of a roof that of the side where w > 0. */
export function accumulateBiasGradient(
  bias: Bias,
  xs: Float64Array,
  ys: Float64Array,
  gx: Float64Array,
  gy: Float64Array,
  count: number,
): void {
  const slope = slopeOf(bias);
  const [dx, dy] = bias.direction;
  const w0 = dx * bias.centre[0] + dy * bias.centre[1];
  for (let i = 0; i < count; i++) {
    const falling = bias.shape === 'roof' && dx * xs[i] + dy * ys[i] < w0;
    gx[i] += falling ? -slope * dx : slope * dx;
    gy[i] += falling ? -slope * dy : slope * dy;
  }
}
