/** The options that say what frames are, and what is read of them: of `read`, and of `steer --frame`. */
import { type Command, Option } from 'commander';
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import type { PatchGiven } from '../metrology/frame/read-patch.ts';
import { FRAME_UNITS, type FrameUnit } from '../reading/frames/frame-source.ts';
import type { CameraOrientation } from '../scenario/camera-orientation.ts';
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
  return pictureRead(design, input.taken, steps, { orientation, place: given.place });
}

/** Undefined where neither options nor a bench file say anything. */
function statedOrientation(given: GivenCamera): CameraOrientation | undefined {
  const isStated = Object.keys({ ...given.options, ...given.bench }).length > 0;
  return isStated ? orientationFrom(given) : undefined;
}
