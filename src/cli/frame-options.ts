/** The options that say what frames are, and what is read of them: of `read`, and of `steer --frame`. */
import { type Command, Option } from 'commander';
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import type { PatchGiven } from '../metrology/frame/read-patch.ts';
import type { CameraPlace } from '../reading/bench/camera-place.ts';
import { FRAME_UNITS, type FrameUnit } from '../reading/frames/frame-source.ts';
import type { CameraFrame } from '../scenario/camera-frame.ts';
import {
  type CameraOrientation,
  type PixelGrid,
  PLAIN_ORIENTATION,
  placeOfPixel,
} from '../scenario/camera-orientation.ts';
import { type PictureRead, pictureRead } from '../writing/frame/picture-read.ts';
import { type GivenCamera, orientationFrom } from './camera-options.ts';
import { takeFrames } from './frame-input.ts';
import type { Io } from './io.ts';

export interface FrameOptions {
  readonly unit?: FrameUnit;
  readonly steps?: keyof typeof STEPS;
  readonly belowBias?: boolean;
}

const STEPS = { longer: 1, shorter: -1, unknown: 'unknown' } as const;

export const withFrameOptions = (command: Command): Command =>
  command
    .addOption(
      new Option(
        '--unit <unit>',
        'what fractional numbers of a frame are: fractions of full scale, or a phase of the return (nm: optical path, twice the height)',
      ).choices(FRAME_UNITS),
    )
    .addOption(
      new Option(
        '--steps <direction>',
        'which way the optical path of the return goes from frame to frame, by less than half a fringe; of a phase map, `longer` if its numbers grow with that path',
      ).choices(Object.keys(STEPS)),
    )
    .option(
      '--below-bias',
      'the tilt along each tilt bias is less than the bias, which settles the sign there',
    );

/** Findings alone where the files cannot be used; with the picture, warnings of what was not read. */
export async function readPicture(
  design: Design,
  files: readonly string[],
  options: FrameOptions,
  given: GivenCamera,
  io: Io,
): Promise<PictureRead | { readonly findings: readonly Finding[] }> {
  const input = await takeFrames(design, files, options.unit, io);
  if ('findings' in input) return input;
  const orientation = statedOrientation(given);
  const steps: PatchGiven = {
    ...(options.steps === undefined ? {} : { stepping: STEPS[options.steps] }),
    ...(options.belowBias ? { belowBias: true } : {}),
  };
  const frames = input.taken.flatMap((file) => file.frames);
  const grid = given.place && gridOf(design, frames[0]!, given.place, orientation ?? PLAIN_ORIENTATION);
  return pictureRead(design, input.taken, { ...steps, ...(grid === undefined ? {} : { grid }) }, orientation);
}

/** The pixels' grid about the frame's own middle, where the bench file says which pixel the beam's middle is. */
function gridOf(
  { beam }: Design,
  { width, height }: CameraFrame,
  { centre: [column, row], pixelsPerMm }: CameraPlace,
  orientation: CameraOrientation,
): PixelGrid {
  const pitch = 1 / pixelsPerMm;
  const aboutBeam = { centre: beam.centre, pitch, columns: 2 * column + 1, rows: 2 * row + 1 };
  const centre = placeOfPixel(orientation, aboutBeam, [(width - 1) / 2, (height - 1) / 2]);
  return { centre, pitch, columns: width, rows: height };
}

/** Undefined where neither options nor a bench file say anything. */
function statedOrientation(given: GivenCamera): CameraOrientation | undefined {
  const isStated = Object.keys({ ...given.options, ...given.bench }).length > 0;
  return isStated ? orientationFrom(given) : undefined;
}
