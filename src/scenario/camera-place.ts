/** Where the camera's picture has the beam's circle, as measured at the bench. */
import type { Vec2 } from '../geometry/vector.ts';

export interface CameraPlace {
  /** [column, row] of the middle of the beam's circle on the pattern; the middle of the first pixel, top left, is [0, 0]. */
  readonly centre: Vec2;
  /** Pixels that a millimetre on the pattern takes. */
  readonly pixelsPerMm: number;
}
