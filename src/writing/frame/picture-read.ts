/** From frames that were taken to what is read of them and said of it: of `read`, of `steer --frame`, and of the bench page. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { readFrames } from '../../metrology/frame/read-frames.ts';
import type { PatchGiven } from '../../metrology/frame/read-patch.ts';
import { type GivenPlace, type LocationFault, locateHologram } from '../../metrology/location/locate.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { orientationWords } from '../page/orientation-words.ts';
import { orientationLine, reportedOrientation } from '../report/reported-orientation.ts';
import { isSure, unsureWords } from './fault-words.ts';
import type { ReadPicture, TakenFile } from './frame-report.ts';

export interface PictureRead {
  readonly picture: ReadPicture;
  /** Warnings of what was not read. */
  readonly findings: readonly Finding[];
}

/**
 * `orientation`: how the camera is turned, where that is stated. Findings alone where the hologram is not found. Frames that do not go
 * together are not for this: see `notTogether`.
 */
export function pictureRead(
  design: Design,
  taken: readonly TakenFile[],
  steps: PatchGiven,
  { orientation, place }: GivenPlace,
): PictureRead | { readonly findings: readonly Finding[] } {
  const frames = taken.flatMap((file) => file.frames);
  const located = locateHologram(design, frames, { orientation, place: place });
  const { map, toldApart, alike, contradicted } = located;
  const isMap = frames[0]!.holds === 'phase';
  if (map === undefined && !isMap) return { findings: [unlocated(taken[0]!.file, located.faults)] };
  const reading =
    map === undefined
      ? readFrames(design, frames, { ...steps, ...(orientation === undefined ? {} : { orientation }) })
      : { ...readFrames(design, frames, { ...steps, map }), toldApart, alike };
  const picture: ReadPicture = { taken: taken, reading, stated: orientation !== undefined };
  const against = [
    ...(contradicted === undefined ? [] : [contradiction(reading.map.orientation, contradicted)]),
    ...(map === undefined ? [assumedPlace(taken[0]!.file)] : []),
  ];
  return {
    picture,
    findings: [...against, ...orientationFindings(design, picture), ...patchFindings(design, picture)],
  };
}

/** Why frames are not of one setting; `most`: of one measurement. */
export function notTogether(taken: readonly TakenFile[], most: number): Finding | undefined {
  const all = taken.flatMap(({ file, frames }) => frames.map((frame) => ({ file, frame })));
  const { file, frame } = all[0]!;
  const other = all.find((one) => one.frame.width !== frame.width || one.frame.height !== frame.height);
  const size = ({ width, height }: typeof frame): string => `${width} × ${height} pixels`;
  if (other !== undefined) {
    const message = `has ${size(other.frame)}, and ${file} has ${size(frame)}`;
    return errorFinding('bad-frame', other.file, message, 'give frames of one camera and one setting');
  }
  if (all.length > 1 && all.some((one) => one.frame.holds === 'phase')) {
    const message = `${all.length} frames are given, and one of them is a phase map`;
    return errorFinding('too-many', file, message, 'give one phase map, or frames in phase steps');
  }
  if (all.length > most) {
    return errorFinding('too-many', file, `${all.length} frames are given`, `give at most ${most}`);
  }
  return undefined;
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
