/** Of `steer`, `--frame`: readings straight from the camera's frames; one by hand of the same patch takes its place. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { toBenchReading } from '../../metrology/frame/to-bench-reading.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { readReadings } from '../../reading/bench/read-readings.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { isSure } from '../../writing/frame/fault-words.ts';
import { frameReport, unreadFrameReport } from '../../writing/frame/frame-report.ts';
import { type GivenCamera, orientationFrom } from '../camera-options.ts';
import { type FrameOptions, readPicture } from '../frame-options.ts';
import type { Io } from '../io.ts';

export interface FrameReadings {
  readonly readings: readonly BenchReading[];
  /** As stated, or as found. */
  readonly orientation: CameraOrientation;
  /** What is said of the frames, in the order of the patches; none of it is an error where readings by hand are there. */
  readonly findings: readonly Finding[];
  /** For `--json`. */
  readonly report: unknown;
}

type Read = { readonly frames: FrameReadings } | { readonly findings: readonly Finding[] };

/** `byHand`: the readings file, which may say how the camera is turned. */
export async function readFramesFor(
  design: Design,
  files: readonly string[],
  options: FrameOptions,
  given: GivenCamera,
  byHand: { readonly text: string; readonly name: string } | undefined,
  io: Io,
): Promise<Read> {
  const hand = byHand && readReadings(byHand.text, byHand.name, design.scenario, patchNumbers(design));
  const camera = { ...given, bench: { ...given.bench, ...hand?.camera } };
  const read = await readPicture(design, files, options, camera, io);
  if (!('picture' in read)) {
    // A frame that shows nothing keeps no reading by hand from being used; a file that is none is a slip.
    if (hand?.readings === undefined || read.findings.some(({ rule }) => rule !== 'unread-patch'))
      return read;
    const said = read.findings.map((finding): Finding => ({ ...finding, severity: 'warning' }));
    const orientation = orientationFrom(camera);
    return { frames: { readings: [], orientation, findings: said, report: unreadFrameReport(said) } };
  }
  const { picture, findings } = read;
  const sure = picture.reading.patches.filter(isSure);
  if (sure.length === 0 && hand === undefined) return { findings };
  const taken = new Set(hand?.readings?.map(subjectOf));
  const overridden = sure.flatMap(({ patch: { id } }): Finding[] => {
    if (!taken.has(id)) return [];
    const message = `patch ${id} was read by hand: that reading is used, not the one from the frame`;
    return [{ ...errorFinding('hand-reading', '--frame', message), severity: 'note' }];
  });
  const isMissed = ({ rule, where }: Finding): boolean => rule !== 'unread-patch' || !taken.has(where);
  const said = [
    ...findings.filter(isMissed).map((finding): Finding => {
      return finding.severity === 'error' ? { ...finding, severity: 'warning' } : finding;
    }),
    ...overridden,
  ];
  return {
    frames: {
      readings: sure.flatMap((one) => toBenchReading(one) ?? []),
      orientation: picture.reading.map.orientation,
      findings: said,
      report: frameReport(design, picture, said),
    },
  };
}

type ByHand = Pick<ReturnType<typeof readReadings>, 'readings' | 'camera' | 'findings' | 'places'>;

/** Those by hand, and of the frames those of other patches. */
export function withFrames(byHand: ByHand | undefined, frames: FrameReadings | undefined): ByHand {
  const hand: ByHand = byHand ?? {
    ...{ readings: [], entries: [], camera: {}, findings: [] },
    places: () => undefined,
  };
  if (frames === undefined || hand.readings === undefined) return hand;
  const taken = new Set(hand.readings.map(subjectOf));
  // Behind them: places in the text are counted by those by hand.
  const others = frames.readings.filter((one) => !taken.has(subjectOf(one)));
  return { ...hand, readings: [...hand.readings, ...others] };
}
