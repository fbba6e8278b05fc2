/**
 * Which way the camera is turned, from where patches are seen in its picture: those of the eight orientations that put each patch where it
 * was seen. mm; places in the picture count from its centre, right and up.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { largestDistanceFrom } from '../../geometry/extent.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type CameraOrientation, ORIENTATIONS, toPicture } from '../../scenario/camera-orientation.ts';
import { apertureWindow } from './fringe-picture-window.ts';

export interface SeenPatch {
  readonly patch: DesignedPatch;
  /** Where it appears in the picture. */
  readonly at: Vec2;
}

/** Of the patch's own half size: a finger on a screen is off by so much. */
const OFF = 1;

/** Where a place on the pattern appears in the picture. */
export function seenAt(design: Design, [x, y]: Vec2, orientation: CameraOrientation): Vec2 {
  const { centre } = apertureWindow(design, 1);
  return toPicture(orientation, [x - centre[0], y - centre[1]]);
}

/** One where the patches settle it, several where they cannot tell them apart, none where no orientation explains what was seen. */
export function orientationsSeen(design: Design, seen: readonly SeenPatch[]): readonly CameraOrientation[] {
  return ORIENTATIONS.filter((orientation) =>
    seen.every(({ patch, at }) => {
      const [right, up] = seenAt(design, patch.centre, orientation);
      const allowed = OFF * largestDistanceFrom(patch.outline, patch.centre);
      return Math.hypot(right - at[0], up - at[1]) <= allowed;
    }),
  );
}
