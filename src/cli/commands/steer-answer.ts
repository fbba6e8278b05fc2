/** Of `steer`: from the text of a readings file, or from the last round of a session, to what is printed and kept. */
import type { Design } from '../../design/design.ts';
import { type Finding, withPlace } from '../../finding/finding.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { alongSenses } from '../../metrology/steering/seen-readings.ts';
import { readReadings } from '../../reading/bench/read-readings.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { RoundName } from '../../scenario/round-name.ts';
import { jsonText } from '../../writing/json.ts';
import { lastRound, type Works, workedRound } from '../../writing/session/worked-round.ts';
import { steeringText } from '../../writing/steering/steering-text.ts';
import { orientationFrom } from '../camera-options.ts';
import type { TalkOptions } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { countOf, listing, refusing, sayFindings } from '../say.ts';
import type { BenchBefore } from './steer-before.ts';
import { type FrameReadings, withFrames } from './steer-frames.ts';
import { keepRound, type OpenSession } from './steer-session.ts';

export interface Bench extends BenchBefore {
  readonly session?: OpenSession;
  /** What was read from frames beside the readings by hand. */
  readonly frames?: FrameReadings;
  /** When the readings were taken; before clamping if left out. */
  readonly moment?: RoundName;
}

/** To readings that have come in: with a session, its next round. Without a text, to those of frames alone. */
export function answer(
  design: Design,
  text: string | undefined,
  name: string,
  options: TalkOptions,
  bench: Bench,
  io: Io,
): ExitCode {
  const refuse = (findings: readonly Finding[]): ExitCode =>
    refusing(options, io)(name, { findings, ...(text === undefined ? {} : { text }) });
  const {
    readings: seen,
    camera: told,
    findings: faults,
    places,
  } = withFrames(
    text === undefined ? undefined : readReadings(text, name, design.scenario, patchNumbers(design)),
    bench.frames,
  );
  if (seen === undefined) return refuse(faults);
  const camera = bench.frames?.orientation ?? orientationFrom(bench.given, told);
  const { readings, findings: unseen } = alongSenses(design, seen, camera);
  const placed = (finding: Finding): Finding => withPlace(finding, places);
  if (unseen.length > 0) return refuse(unseen.map(placed));
  const { findings, works, round } = workedRound(design, {
    readings,
    camera,
    rounds: bench.session?.session.rounds ?? [],
    before: bench.session === undefined ? bench.before : undefined,
    placed,
    moment: bench.moment,
  });
  const unkept = bench.session === undefined ? [] : keepRound(bench.session, round);
  if (works === undefined) return refusing(options, io)(name, { findings: [...findings, ...unkept] });
  if (countOf(unkept, 'error') > 0) return refusing(options, io)(name, { findings: unkept });
  const kept = bench.session && {
    path: bench.session.path,
    number: bench.session.session.rounds.length + 1,
  };
  return tell(works, { name, text, camera, round: kept, frames: bench.frames, options, io });
}

/** The last round once more; nothing is kept. */
export function again(design: Design, options: TalkOptions, { session: open }: Bench, io: Io): ExitCode {
  const { path, session } = open!;
  const last = session.rounds.at(-1);
  if (last === undefined) {
    const message = 'the session has no rounds yet';
    const finding = {
      severity: 'error',
      rule: 'missing-key',
      where: path,
      message,
      hint: 'add one with `--readings`',
    };
    return refusing(options, io)(path, { findings: [finding as Finding] });
  }
  const works = lastRound(design, session.rounds)!;
  return tell(works, {
    name: path,
    text: undefined,
    camera: last.camera,
    round: { path, number: session.rounds.length },
    frames: undefined,
    options,
    io,
  });
}

interface Telling {
  readonly name: string;
  readonly text: string | undefined;
  readonly camera: CameraOrientation;
  readonly round: { readonly path: string; readonly number: number } | undefined;
  readonly frames: FrameReadings | undefined;
  readonly options: TalkOptions;
  readonly io: Io;
}

function tell(
  { steering, findings, report }: Works,
  { name, text, camera, round, frames, options, io }: Telling,
): ExitCode {
  if (options.json) {
    const session = round === undefined ? {} : { session: { file: round.path, round: round.number } };
    const from = frames === undefined ? {} : { frames: frames.report };
    io.stdout.write(jsonText({ ...listing(report), readings: name, ...session, ...from }));
  } else {
    sayFindings(findings, text, io.stderr, io, options);
    io.stdout.write(steeringText(report, steering, camera, round));
  }
  return countOf(findings, 'error') > 0 ? EXIT.rulesBroken : EXIT.fine;
}
