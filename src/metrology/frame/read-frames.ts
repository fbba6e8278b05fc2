/** A camera's frame, or several in phase steps, or a phase map, to what each patch shows: where the pattern stands in it, then patch by patch. */
import type { Design } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import {
  type CameraOrientation,
  type PixelGrid,
  PLAIN_ORIENTATION,
} from '../../scenario/camera-orientation.ts';
import { apertureWindow } from '../camera/fringe-picture-window.ts';
import { orientationOf } from '../camera/orientation-check.ts';
import { type FrameMap, plainMap } from '../location/frame-map.ts';
import type { FrameReading } from './frame-reading.ts';
import { type PatchGiven, readPatch } from './read-patch.ts';

interface FramesGiven extends PatchGiven {
  /** Where the pattern stands in the frame, as it was found there; taken before what follows. */
  readonly map?: FrameMap;
  /** Seen from the interferometer where it is not given. */
  readonly orientation?: CameraOrientation;
  /** Where the pattern stands in the frame; else the camera's circle spans the frame's smaller side, in its middle. */
  readonly grid?: PixelGrid;
}

/** The frames are of one size. Throws a RangeError where they are not, or there is none. */
export function readFrames(
  design: Design,
  frames: readonly CameraFrame[],
  given: FramesGiven = {},
): FrameReading {
  const [frame] = frames;
  if (frame === undefined) throw new RangeError('no frame to read');
  if (frames.some(({ width, height }) => width !== frame.width || height !== frame.height))
    throw new RangeError('frames in phase steps are of one size');
  const map = given.map ?? mapOf(design, frame, given);
  const { alike } = orientationOf(design);
  const patches = design.patches.filter(({ reference }) => !isReadBy(reference, 'mark'));
  return {
    map,
    toldApart: alike.length === 0,
    alike,
    patches: patches.map((patch) => readPatch(design, patch, frames, map, given)),
  };
}

function mapOf(
  design: Design,
  { width, height }: CameraFrame,
  { orientation = PLAIN_ORIENTATION, grid }: FramesGiven,
): FrameMap {
  const { centre, pitch } = apertureWindow(design, Math.min(width, height));
  return plainMap(orientation, grid ?? { centre, pitch, columns: width, rows: height });
}
