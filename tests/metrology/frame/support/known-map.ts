/** The map of an independent camera, as if the hologram had been found in the frame: with what is left of its misplacement. */
import type { FrameMap } from '../../../../src/metrology/location/frame-map.ts';
import type { CameraOrientation } from '../../../../src/scenario/camera-orientation.ts';
import { type FrameCamera, pixelSeen, placeSeen } from '../../../independent/frame-camera.ts';

/** `uncertainty`, pixels: as it is stated; the camera given may be another than the one that took the frame. */
export function knownMap(camera: FrameCamera, uncertainty = 0): FrameMap {
  const [pixel, place] = [pixelSeen(camera), placeSeen(camera)];
  return {
    orientation: camera.turn as CameraOrientation,
    pitch: camera.beam.diameter / Math.min(camera.width, camera.height),
    toPixel: ([x, y]) => pixel(x, y),
    toPattern: ([column, row]) => place(column, row),
    uncertainty,
  };
}
