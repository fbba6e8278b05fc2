/** Of `steer`: from the text of a readings file, or from the last round of a session, to what is printed and kept. */
import type { Design } from '../../design/design.ts';
import { type Finding, withPlace } from '../../finding/finding.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { alongSenses } from '../../metrology/steering/seen-readings.ts';
import { steer } from '../../metrology/steering/steering.ts';
import { steeringFindings } from '../../metrology/steering/steering-findings.ts';
import { askedMoves, askedOfHologram } from '../../metrology/steering/told-moves.ts';
import { readReadings } from '../../reading/bench/read-readings.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import { type AskedMoves, settledAfter } from '../../scenario/bench-session.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { RoundName } from '../../scenario/round-name.ts';
import { jsonText } from '../../writing/json.ts';
import { sessionRound } from '../../writing/session/session-round.ts';
import { steeringReport } from '../../writing/steering/steering-report.ts';
import { steeringText } from '../../writing/steering/steering-text.ts';
import { orientationFrom } from '../camera-options.ts';
import type { TalkOptions } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { countOf, listing, refusing, sayFindings } from '../say.ts';
import { type BenchBefore, movesSince, signsSince } from './steer-before.ts';
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
  const { readings: along, findings: unseen } = alongSenses(design, seen, camera);
  const placed = (finding: Finding): Finding => withPlace(finding, places);
  if (unseen.length > 0) return refuse(unseen.map(placed));
  const last = bench.session?.session.rounds.at(-1);
  const { findings: since, readings } = sinceMoves(design, along, camera, bench);
  const isClear = last?.asked !== undefined && since?.every(({ severity }) => severity === 'note') === true;
  const confirmed = isClear || last?.confirmed === true;
  const keep = (codes: readonly string[], works?: Works): readonly Finding[] => {
    if (bench.session === undefined) return [];
    const asked = works && askedIn(works);
    const setAside = works?.report.setAside.map(({ reading }) => reading) ?? [];
    const number = bench.session.session.rounds.length + 1;
    return keepRound(
      bench.session,
      sessionRound(number, {
        ...{ moment: bench.moment ?? 'before', readings, camera, asked, confirmed, setAside, codes },
        report: works?.report,
      }),
    );
  };
  // Moves told by the same signs would lead away again.
  if (since !== undefined && countOf(since, 'error') > 0) {
    const unkept = keep(since.map(({ rule }) => rule));
    return refusing(options, io)(name, { findings: [...since, ...unkept] });
  }
  const works = workOut(design, readings, since ?? [], placed, {
    confirmed,
    settled: settledAfter(last),
  });
  const unkept = keep(
    works.findings.map(({ rule }) => rule),
    works,
  );
  if (countOf(unkept, 'error') > 0) return refusing(options, io)(name, { findings: unkept });
  const round = bench.session && {
    path: bench.session.path,
    number: bench.session.session.rounds.length + 1,
  };
  return tell(works, { name, text, camera, round, frames: bench.frames, options, io });
}

/** Undefined where nothing is to be moved. A hologram is moved first, and all else read again against it. */
function askedIn({ steering, report: { over, step } }: Works): AskedMoves | undefined {
  if (over.some(({ of }) => of === 'hologram')) return askedOfHologram(steering);
  const moves = askedMoves(steering, step.fraction);
  return moves.part === undefined && moves.references.size === 0 ? undefined : moves;
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
  const works = workOut(design, last.readings, [], (finding) => finding, {
    confirmed: last.confirmed,
    settled: settledAfter(session.rounds.at(-2)),
  });
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

interface SinceMoves {
  /** Undefined where no moves were asked for before. */
  readonly findings: readonly Finding[] | undefined;
  /** As taken; signs that were not seen as the moves tell them. */
  readonly readings: readonly BenchReading[];
}

function sinceMoves(
  design: Design,
  readings: readonly BenchReading[],
  camera: CameraOrientation,
  { before, session, moment = 'before' }: Bench,
): SinceMoves {
  const none = { findings: undefined, readings };
  if (session === undefined)
    return before === undefined ? none : movesSince(design, before, readings, camera);
  const last = session.session.rounds.at(-1);
  if (last === undefined) return none;
  // Clamping moves the part too, and so does loosening it: what comes after is not what the moves alone predict.
  if (moment !== 'before' || last.moment !== 'before') return none;
  const trusted = last.readings.filter((reading) => !last.setAside.includes(subjectOf(reading)));
  if (last.asked === undefined) {
    const { findings, ...told } = signsSince(design, steer(design, trusted), undefined, readings);
    return { ...told, findings: findings.length === 0 ? undefined : findings };
  }
  const since = movesSince(design, trusted, readings, camera, last.asked);
  // Moves as small as noise decide nothing; an earlier round's have.
  if (!last.confirmed) return since;
  return { ...since, findings: since.findings.filter(({ rule }) => rule !== 'moves-undecided') };
}

type Works = ReturnType<typeof workOut>;

function workOut(
  design: Design,
  readings: readonly BenchReading[],
  since: readonly Finding[],
  placed: (finding: Finding) => Finding,
  earlier: { readonly confirmed: boolean; readonly settled: readonly string[] },
) {
  const steering = steer(design, readings);
  const findings = [...since, ...steeringFindings(steering).map(placed)];
  return {
    steering,
    findings,
    errors: countOf(findings, 'error'),
    report: steeringReport(design, steering, findings, earlier),
  };
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
  { steering, findings, errors, report }: Works,
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
  return errors > 0 ? EXIT.rulesBroken : EXIT.fine;
}
