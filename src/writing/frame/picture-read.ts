/** From frames that were taken to what is read of them and said of it: of `read`, of `steer --frame`, and of the bench page. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { type FramesGiven, readFrames } from '../../metrology/frame/read-frames.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { orientationLine, reportedOrientation } from '../report/reported-orientation.ts';
import { isSure, unsureWords } from './fault-words.ts';
import type { ReadPicture, TakenFile } from './frame-report.ts';

export interface PictureRead {
  readonly picture: ReadPicture;
  /** Warnings of what was not read. */
  readonly findings: readonly Finding[];
}

/** `stated`: how the camera is turned, where that is known. Frames that do not go together are not for this: see `notTogether`. */
export function pictureRead(
  design: Design,
  taken: readonly TakenFile[],
  given: Omit<FramesGiven, 'orientation'>,
  stated: CameraOrientation | undefined,
): PictureRead {
  const frames = taken.flatMap((file) => file.frames);
  const reading = readFrames(design, frames, {
    ...given,
    ...(stated === undefined ? {} : { orientation: stated }),
  });
  const picture: ReadPicture = { taken, reading, stated: stated !== undefined };
  return { picture, findings: [...orientationFindings(design, picture), ...patchFindings(design, picture)] };
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
