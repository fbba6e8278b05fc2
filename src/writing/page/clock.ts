/**
 * Directions of the pattern plane as the operator reads them in the camera's picture: as on the face of a clock, to the nearest half
 * hour. Unless the bench says otherwise the picture is that from the interferometer, where x runs to the left.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { type CameraOrientation, isMirrorImage, toPicture } from '../../scenario/camera-orientation.ts';

/** `3 o'clock`, `half past 4`; for a direction in the substrate frame. */
export function clockDirection(direction: Vec2, orientation: CameraOrientation): string {
  // On a clock 12 is up and 3 to the right.
  const [right, up] = toPicture(orientation, direction);
  const hours = Math.round((Math.atan2(right, up) * 12) / Math.PI) / 2;
  const turned = (hours + 12) % 12;
  const hour = Math.floor(turned) === 0 ? 12 : Math.floor(turned);
  return Number.isInteger(turned) ? `${hour} o’clock` : `half past ${hour}`;
}

/** Whether turning from one direction to the other by the shorter way is clockwise in that picture. */
export const turnsClockwise = (from: Vec2, to: Vec2, orientation: CameraOrientation): boolean =>
  (from[0] * to[1] - from[1] * to[0]) * (isMirrorImage(orientation) ? 1 : -1) > 0;
