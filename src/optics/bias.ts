/**
 * A deliberate bias of a patch's phase, in waves at order 1: what the fringes at the design place are made of.
 *
 * With w = (x − x₀)·d_x + (y − y₀)·d_y, the run from the patch's centre along the bias's direction (mm):
 *   tilt  B = amplitude · w / reach        roof  B = amplitude · |w| / reach
 * The pattern is crossed twice, so N fringes on the camera need half of N/m in the phase.
 */
import type { Vec2 } from '../geometry/vector.ts';

export interface Bias {
  readonly shape: 'roof' | 'tilt';
  /** Fringes asked for on the camera: of a roof from ridge to edge, of a tilt from edge to edge. */
  readonly fringes: number;
  readonly centre: Vec2;
  /** In the pattern plane; need not be a unit vector (a line's direction seen in the plane is shorter). */
  readonly direction: Vec2;
  /** The bias at w = reach, waves at order 1, signed. */
  readonly amplitude: number;
  /** mm along `direction`: largest |w| in the patch for a roof, the whole width for a tilt. */
  readonly reach: number;
}
