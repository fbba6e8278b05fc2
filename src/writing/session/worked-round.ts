/**
 * A round of an alignment worked out: from readings and what was asked for before to the findings, the moves, and what a session keeps of
 * it. The same for the command `steer` and for the bench page.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { movesSince, signsSince } from '../../metrology/steering/moves-since.ts';
import { steer } from '../../metrology/steering/steering.ts';
import { steeringFindings } from '../../metrology/steering/steering-findings.ts';
import { askedMoves, askedOfHologram } from '../../metrology/steering/told-moves.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import { type AskedMoves, type SessionRound, settledAfter } from '../../scenario/bench-session.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { RoundName } from '../../scenario/round-name.ts';
import { steeringReport } from '../steering/steering-report.ts';
import { sessionRound } from './session-round.ts';

interface RoundTaken {
  /** Along the patches' senses. */
  readonly readings: readonly BenchReading[];
  readonly camera: CameraOrientation;
  /** When they were taken; before clamping if left out. */
  readonly moment?: RoundName | undefined;
  /** Of the session so far. */
  readonly rounds: readonly SessionRound[];
  /** Without a session: the readings before the moves. */
  readonly before?: readonly BenchReading[] | undefined;
  /** Adds the place in the readings file to a finding. */
  readonly placed?: (finding: Finding) => Finding;
}

export interface WorkedRound {
  readonly findings: readonly Finding[];
  /** Undefined where the readings show that the moves before went wrong: moves told by the same signs would lead away again. */
  readonly works: Works | undefined;
  /** What a session keeps. */
  readonly round: SessionRound;
}

export type Works = ReturnType<typeof workOut>;

export function workedRound(design: Design, taken: RoundTaken): WorkedRound {
  const { camera, rounds, moment = 'before', placed = (finding) => finding } = taken;
  const last = rounds.at(-1);
  const { since, readings, confirmed } = sinceBefore(design, taken);
  const number = rounds.length + 1;
  if (since.some(({ severity }) => severity === 'error')) {
    const codes = since.map(({ rule }) => rule);
    const kept = {
      moment,
      readings,
      camera,
      asked: undefined,
      confirmed,
      setAside: [],
      codes,
      report: undefined,
    };
    return { findings: since, works: undefined, round: sessionRound(number, kept) };
  }
  const earlier = { confirmed, settled: settledAfter(last) };
  const works = workOut(design, readings, since, placed, earlier);
  const { report, findings } = works;
  const asked = askedIn(works);
  const setAside = report.setAside.map(({ reading }) => reading);
  const codes = findings.map(({ rule }) => rule);
  return {
    findings,
    works,
    round: sessionRound(number, { moment, readings, camera, asked, confirmed, setAside, codes, report }),
  };
}

/** Undefined where nothing is to be moved. A hologram is moved first, and all else read again against it. */
function askedIn({ steering, report: { over, step } }: Works): AskedMoves | undefined {
  if (over.some(({ of }) => of === 'hologram')) return askedOfHologram(steering);
  const moves = askedMoves(steering, step.fraction);
  return moves.part === undefined && moves.references.size === 0 ? undefined : moves;
}

/** The last round of a session once more; undefined where it has none. */
export function lastRound(design: Design, rounds: readonly SessionRound[]): Works | undefined {
  const last = rounds.at(-1);
  if (last === undefined) return undefined;
  return workOut(design, last.readings, [], (finding) => finding, {
    confirmed: last.confirmed,
    settled: settledAfter(rounds.at(-2)),
  });
}

interface SinceBefore {
  readonly since: readonly Finding[];
  /** As taken; signs that were not seen as the round before tells them. */
  readonly readings: readonly BenchReading[];
  /** The moves asked for, now or in an earlier round, led to the readings predicted. */
  readonly confirmed: boolean;
}

function sinceBefore(
  design: Design,
  { readings, camera, rounds, before, moment = 'before' }: RoundTaken,
): SinceBefore {
  const last = rounds.at(-1);
  const wasConfirmed = last?.confirmed === true;
  const isNote = ({ severity }: Finding): boolean => severity === 'note';
  if (before !== undefined) {
    const since = movesSince(design, before, readings, camera);
    return {
      since: since.findings,
      readings: since.readings,
      confirmed: wasConfirmed || since.findings.every(isNote),
    };
  }
  // Clamping moves the part too, and so does loosening it: what comes after is not what the moves alone predict.
  if (last === undefined || moment !== 'before' || last.moment !== 'before')
    return { since: [], readings, confirmed: wasConfirmed };
  const trusted = last.readings.filter((reading) => !last.setAside.includes(subjectOf(reading)));
  if (last.asked === undefined) {
    const told = signsSince(design, trusted, readings);
    return { since: told.findings, readings: told.readings, confirmed: wasConfirmed };
  }
  const told = movesSince(design, trusted, readings, camera, last.asked);
  // Moves as small as noise decide nothing; an earlier round's have.
  const since = wasConfirmed ? told.findings.filter(({ rule }) => rule !== 'moves-undecided') : told.findings;
  return { since, readings: told.readings, confirmed: wasConfirmed || since.every(isNote) };
}

function workOut(
  design: Design,
  readings: readonly BenchReading[],
  since: readonly Finding[],
  placed: (finding: Finding) => Finding,
  earlier: { readonly confirmed: boolean; readonly settled: readonly string[] },
) {
  const steering = steer(design, readings);
  const findings = [...since, ...steeringFindings(steering).map(placed)];
  return { steering, findings, report: steeringReport(design, steering, findings, earlier) };
}
