/** Of `steer`, `--before`: whether the moves told from earlier readings have led to those of now. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding, withPlace } from '../../finding/finding.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { checkMoves } from '../../metrology/steering/moves-check.ts';
import { movesFindings } from '../../metrology/steering/moves-findings.ts';
import { predictedReadings } from '../../metrology/steering/moves-predicted.ts';
import { alongSenses } from '../../metrology/steering/seen-readings.ts';
import { settledSigns } from '../../metrology/steering/settled-signs.ts';
import { type Steering, steer } from '../../metrology/steering/steering.ts';
import { toldMoves } from '../../metrology/steering/told-moves.ts';
import { readReadings } from '../../reading/bench/read-readings.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import type { BenchMove } from '../../scenario/bench-session.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { type GivenCamera, orientationFrom } from '../camera-options.ts';
import type { Io } from '../io.ts';
import { readInput } from '../read-input.ts';
import type { Fault } from '../say.ts';

/** What answers are given against. */
export interface BenchBefore {
  readonly given: GivenCamera;
  /** The readings before the moves, along the patches' senses; undefined where there are none. */
  readonly before: readonly BenchReading[] | undefined;
}

type Read = BenchBefore | { readonly name: string; readonly fault: Fault };

/** `inputs` are the command's other ones. */
export async function readBefore(
  design: Design,
  before: string | undefined,
  given: GivenCamera,
  inputs: readonly string[],
  io: Io,
): Promise<Read> {
  if (before === undefined) return { given, before };
  if (before === '-' && inputs.includes('-')) {
    const message = 'standard input cannot be both the readings before the moves and another input';
    const finding = errorFinding('conflicting-keys', '--before', message, 'name a file');
    return { name: '<stdin>', fault: { findings: [finding] } };
  }
  const input = await readInput(before, io);
  if ('finding' in input) return { name: input.name, fault: { findings: [input.finding] } };
  const { text, name } = input;
  const { readings, camera, findings, places } = readReadings(
    text,
    name,
    design.scenario,
    patchNumbers(design),
  );
  if (readings === undefined) return { name, fault: { findings, text } };
  const along = alongSenses(design, readings, orientationFrom(given, camera));
  if (along.findings.length === 0) return { given, before: along.readings };
  return { name, fault: { findings: along.findings.map((finding) => withPlace(finding, places)), text } };
}

interface Since {
  readonly findings: readonly Finding[];
  /** As taken; signs that were not seen as the moves tell them. */
  readonly readings: readonly BenchReading[];
}

/** `moves`: those made since; by default all that are told from the readings before. */
export function movesSince(
  design: Design,
  before: readonly BenchReading[],
  taken: readonly BenchReading[],
  orientation: CameraOrientation,
  moves?: BenchMove,
): Since {
  const was = steer(design, before);
  const predicted = predictedReadings(design, was, moves ?? toldMoves(design, was));
  const checked = movesFindings(checkMoves(design, { predicted, taken }, orientation));
  const { readings, findings } = signsSince(design, was, moves ?? toldMoves(design, was), taken);
  return { findings: [...checked, ...findings], readings };
}

/** What was told by the round before of signs that were not seen, in a note each; `moves` as for `settledSigns`. */
export function signsSince(
  design: Design,
  was: Steering,
  moves: BenchMove | undefined,
  taken: readonly BenchReading[],
): Since {
  const { readings, settled } = settledSigns(design, was, moves, taken);
  const findings = [...settled].map(([patch, sign]): Finding => {
    const given = taken.find((one) => subjectOf(one) === patch)!;
    const isPair = given.kind === 'fringes' && given.or !== undefined;
    const which = isPair
      ? `${sign > 0 ? 'first' : 'second'} of its two readings is taken`
      : `sign of its reading is taken for ${sign > 0 ? '+' : '−'}`;
    const message = `patch ${patch}: the ${which}, as predicted from the round before`;
    return { ...errorFinding('settled-sign', patch, message), severity: 'note' };
  });
  return { findings, readings };
}
