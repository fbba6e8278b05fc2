/** The options that say what frames are, and what is read of them: of `read`, and of `steer --frame`. */
import { type Command, Option } from 'commander';
import type { Design } from '../design/design.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { type LocationFault, locateHologram } from '../metrology/frame/locate.ts';
import { readFrames } from '../metrology/frame/read-frames.ts';
import type { PatchGiven } from '../metrology/frame/read-patch.ts';
import { FRAME_UNITS, type FrameUnit } from '../reading/frames/frame-source.ts';
import type { CameraOrientation } from '../scenario/camera-orientation.ts';
import { isSure, unsureWords } from '../writing/frame/fault-words.ts';
import type { ReadPicture } from '../writing/frame/frame-report.ts';
import { orientationWords } from '../writing/page/orientation-words.ts';
import { orientationLine, reportedOrientation } from '../writing/report/reported-orientation.ts';
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

type Picture = { readonly picture: ReadPicture; readonly findings: readonly Finding[] };

/** Findings alone where the files cannot be used; with the picture, warnings of what was not read. */
export async function readPicture(
  design: Design,
  files: readonly string[],
  options: FrameOptions,
  given: GivenCamera,
  io: Io,
): Promise<Picture | { readonly findings: readonly Finding[] }> {
  const input = await takeFrames(design, files, options.unit, io);
  if ('findings' in input) return input;
  const orientation = statedOrientation(given);
  const steps: PatchGiven = {
    ...(options.steps === undefined ? {} : { stepping: STEPS[options.steps] }),
    ...(options.belowBias ? { belowBias: true } : {}),
  };
  const frames = input.taken.flatMap((file) => file.frames);
  const located = locateHologram(design, frames, { orientation, place: given.place });
  const { map, toldApart, alike, contradicted } = located;
  const isMap = frames[0]!.holds === 'phase';
  if (map === undefined && !isMap) return { findings: [unlocated(input.taken[0]!.file, located.faults)] };
  const reading =
    map === undefined
      ? readFrames(design, frames, { ...steps, ...(orientation === undefined ? {} : { orientation }) })
      : { ...readFrames(design, frames, { ...steps, map }), toldApart, alike };
  const picture: ReadPicture = { taken: input.taken, reading, stated: orientation !== undefined };
  const against = [
    ...(contradicted === undefined ? [] : [contradiction(reading.map.orientation, contradicted)]),
    ...(map === undefined ? [assumedPlace(input.taken[0]!.file)] : []),
  ];
  return {
    picture,
    findings: [...against, ...orientationFindings(design, picture), ...patchFindings(design, picture)],
  };
}

const UNLOCATED: Readonly<Record<LocationFault, string>> = {
  'sizes-differ': 'the frames have different sizes',
  blank: 'the frame is dark, or the same all over',
  'not-found': 'nothing in the frame is like the lit outlines of this hologram',
  'too-few-lit': 'too few patches are lit to tell where the hologram stands in the frame',
};

function unlocated(file: string, [fault]: readonly LocationFault[]): Finding {
  const hint =
    'check exposure, focus and that this is the hologram’s frame; or say in a bench file where the beam is: `camera: {centre, pixelsPerMm}`';
  return errorFinding('unread-patch', '--frame', `${file}: ${UNLOCATED[fault ?? 'not-found']}`, hint);
}

/** A phase map may have no edge of its own to go by: its place is then that of a frame of which nothing is said. */
function assumedPlace(file: string): Finding {
  const message = `${file}: where the hologram stands in the map was not found; taken as if the beam spans the map, in its middle`;
  const hint = 'say it in a bench file: `camera: {centre, pixelsPerMm}`';
  return { ...errorFinding('open-orientation', '--bench', message, hint), severity: 'warning' };
}

function contradiction(stated: CameraOrientation, seen: CameraOrientation): Finding {
  const message = `the outlines show a camera ${orientationWords(seen)}; stated is ${orientationWords(stated)}, which is believed`;
  const hint = 'check --bench, --view, --turned and --mirrored before you move anything';
  return { ...errorFinding('open-orientation', '--bench', message, hint), severity: 'warning' };
}

/** Undefined where neither options nor a bench file say anything. */
function statedOrientation(given: GivenCamera): CameraOrientation | undefined {
  const isStated = Object.keys({ ...given.options, ...given.bench }).length > 0;
  return isStated ? orientationFrom(given) : undefined;
}

function orientationFindings(design: Design, { reading, stated }: ReadPicture): readonly Finding[] {
  if (stated || reading.toldApart) return [];
  const way = orientationLine(reportedOrientation(design))
    .replace(/^ *camera */, '')
    .replace(/^[^:]*: /, '');
  const message = `the picture looks the same in ${reading.alike.length + 1} of the camera’s eight orientations, and the plainest is assumed`;
  const hint = `${way}; then state it with --bench, --view, --turned or --mirrored`;
  return [{ ...errorFinding('open-orientation', '--bench', message, hint), severity: 'warning' }];
}

function patchFindings(design: Design, { reading }: ReadPicture): readonly Finding[] {
  const isNone = !reading.patches.some(isSure);
  const unsure = reading.patches.filter((patch) => !isSure(patch));
  const warnings = unsure.map((patch): Finding => {
    const { seen, remedy } = unsureWords(patch);
    const index = design.scenario.patches.findIndex(({ id }) => id === patch.patch.id);
    return {
      ...errorFinding('unread-patch', patch.patch.id, `patch ${patch.patch.id} is not read: ${seen}`, remedy),
      severity: isNone ? 'error' : 'warning',
      ...(index < 0 ? {} : { path: ['patches', index] }),
    };
  });
  if (!isNone) return warnings;
  const message =
    reading.patches.length === 0 ? 'the hologram has no patch that shows fringes' : 'no patch can be read';
  return [
    errorFinding(
      'unread-patch',
      '--frame',
      message,
      'see each patch; check that this is a frame of this hologram',
    ),
    ...warnings,
  ];
}
