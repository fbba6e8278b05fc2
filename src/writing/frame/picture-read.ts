/** From frames that were taken to what is read of them and said of it: of `read`, of `steer --frame`, and of the bench page. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { readFrames } from '../../metrology/frame/read-frames.ts';
import type { PatchGiven } from '../../metrology/frame/read-patch.ts';
import { type GivenPlace, locateHologram } from '../../metrology/location/locate.ts';
import { orientationWords } from '../page/orientation-words.ts';
import { orientationLine, reportedOrientation } from '../report/reported-orientation.ts';
import { isSure, unsureWords } from './fault-words.ts';
import type { ReadPicture, TakenFile } from './frame-report.ts';
import { assumedPlace, CHECK_STATED, contradiction, unlocated } from './location-words.ts';

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
  if (map === undefined && !isMap)
    return { findings: [unlocated(design, taken[0]!.file, frames[0]!, located.faults[0] ?? 'not-found')] };
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
    findings: [
      ...against,
      ...orientationFindings(design, picture),
      ...patchFindings(design, picture, contradicted !== undefined),
    ],
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

function orientationFindings(design: Design, { reading, stated }: ReadPicture): readonly Finding[] {
  if (stated || reading.toldApart) return [];
  const way = orientationLine(reportedOrientation(design))
    .replace(/^ *camera */, '')
    .replace(/^[^:]*: /, '');
  const message = `the picture looks the same in ${reading.alike.length + 1} of the camera’s eight orientations; it is taken as ${orientationWords(reading.map.orientation)}`;
  const hint = `${way}; then state it with --bench, --view, --turned or --mirrored`;
  return [{ ...errorFinding('open-orientation', '--bench', message, hint), severity: 'warning' }];
}

/** `isContradicted`: the outlines show another orientation than the stated one. */
function patchFindings(
  design: Design,
  { taken, reading }: ReadPicture,
  isContradicted: boolean,
): readonly Finding[] {
  const [{ file }] = taken as readonly [TakenFile];
  const none = (message: string, hint: string): Finding => errorFinding('unread-patch', file, message, hint);
  if (reading.patches.length === 0)
    return [
      none(
        'the hologram has no patch that shows fringes',
        'nothing is to be read; screens are aligned by eye',
      ),
    ];
  const unsure = reading.patches.filter((patch) => !isSure(patch));
  const isNone = unsure.length === reading.patches.length;
  // What is seen beside the patches says nothing of them.
  if (isNone && isContradicted)
    return [none('no patch can be read with the camera turned as it is stated', CHECK_STATED)];
  const words = unsure.map(unsureWords);
  const [first] = words;
  if (isNone && words.every(({ seen, remedy }) => seen === first!.seen && remedy === first!.remedy))
    return [none(`no patch can be read: ${first!.seen}`, first!.remedy)];
  const each = unsure.map(({ patch: { id } }, k): Finding => {
    const { seen, remedy } = words[k]!;
    const index = design.scenario.patches.findIndex((one) => one.id === id);
    return {
      ...errorFinding('unread-patch', id, `patch ${id} is not read: ${seen}`, remedy),
      severity: isNone ? 'error' : 'warning',
      ...(index < 0 ? {} : { path: ['patches', index] }),
    };
  });
  if (!isNone) return each;
  const hint = 'see what is said of each patch, and check that this is a frame of this hologram';
  return [none('no patch can be read', hint), ...each];
}
