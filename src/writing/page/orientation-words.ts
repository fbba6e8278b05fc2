/** Which way a picture is turned, in words for the bench. */
import { type CameraOrientation, toPicture } from '../../scenario/camera-orientation.ts';

/** `seen from the interferometer, mirrored left to right, turned 90° clockwise`. */
export function orientationWords({ view, turned, mirrored }: CameraOrientation): string {
  const from = view === 'part' ? 'seen from the part side' : 'seen from the interferometer';
  const words = [
    from,
    ...(mirrored ? ['mirrored left to right'] : []),
    ...(turned === 0 ? [] : [`turned ${turned}° clockwise`]),
  ];
  return words.join(', ');
}

/** `x to the left, y up`. */
export const axesWords = (orientation: CameraOrientation): string =>
  (['x', 'y'] as const).map((axis) => `${axis} ${wayOf(orientation, axis)}`).join(', ');

function wayOf(orientation: CameraOrientation, axis: 'x' | 'y'): string {
  const [right, up] = toPicture(orientation, axis === 'x' ? [1, 0] : [0, 1]);
  if (right !== 0) return right > 0 ? 'to the right' : 'to the left';
  return up > 0 ? 'up' : 'down';
}
