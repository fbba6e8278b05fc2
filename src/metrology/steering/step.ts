/**
 * How much of the moves to make before reading again: no more than the readings vouch for. Values and ranges in mm of each reading.
 *
 * - Signs that no round has confirmed: if all were wrong, a step f makes a reading v into v(1 + f), which must still be countable.
 * - Moves made by hand: each is off by a share of it, so that a reading is left at v(1 − f) ± 3 · share · f · √Σ(Jₖxₖ)². Where large moves
 *   hold each other in balance, that grows with f.
 * - Readings that the ray trace does not reach: the moves are right to first order only.
 */
import type { Design } from '../../design/design.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import { singleMoves, sixOf } from './stage.ts';
import type { Steering } from './steering.ts';
import { displacementOf, type PartSteering } from './steering-part.ts';
import { type SteeringReading, valueIf } from './steering-readings.ts';
import { onlySolution } from './steering-signs.ts';
import { times } from './steering-solve.ts';
import { vouchedMove } from './vouched-move.ts';

type StepReason = 'signs not confirmed' | 'moves by hand' | 'beyond the ray trace';

export interface Step {
  /** Of every move; 1 for the whole. */
  readonly fraction: number;
  /** What it is limited by; undefined at 1. */
  readonly reason: StepReason | undefined;
  /** The reading that limits it; undefined where none does by itself. */
  readonly reading: string | undefined;
}

/** Hand-turned screws and indicators, a share of the move: common practice, no source beyond the trade. */
export const MOVE_ACCURACY = 0.1;
/** Standard uncertainties of the moves that a reading must bear. */
const COVERED = 3;
/** A smaller step shows too little: with wrong signs even this one can be undone. */
const LEAST = 0.2;
/** First-order moves from where the trace does not reach. */
const BLIND = 0.5;

const WHOLE: Step = { fraction: 1, reason: undefined, reading: undefined };

/** `confirmed`: an earlier round's moves led to the readings predicted. */
export function stepOf(design: Design, { references, part }: Steering, confirmed: boolean): Step {
  const own = references.filter(({ reference }) => !movesWithPart(reference));
  const { size } = part.pose;
  const limits = [
    ...limitsOf(part, confirmed, vouchedMove(part, 6)?.unknowns, (unknowns) =>
      singleMoves(design.scenario.stage, displacementOf(unknowns, size), size).map((move) =>
        sixOf(move, size),
      ),
    ),
    ...own.flatMap((each) =>
      limitsOf(each, confirmed, onlySolution(each.candidates)?.unknowns, (unknowns) =>
        Array.from(unknowns, (_, k) => Array.from(unknowns, (value, j) => (j === k ? value : 0))),
      ),
    ),
  ];
  return limits.reduce((least, next) => (next.fraction < least.fraction ? next : least), WHOLE);
}

type Limited = Pick<PartSteering, 'candidates' | 'problem'>;

/** `move`: over the first unknowns, undefined where it is not decided; `movesOf`: what is done of it one by one. */
function limitsOf(
  { candidates, problem }: Limited,
  confirmed: boolean,
  move: Float64Array | undefined,
  movesOf: (unknowns: Float64Array) => readonly (readonly number[])[],
): readonly Step[] {
  const solution = onlySolution(candidates);
  const { signs = new Map<number, 1 | -1>() } = candidates[0] ?? {};
  const { readings, rows, unknowns } = problem;
  if (solution === undefined || !move?.some((value) => value !== 0) || readings.length === 0) return [];
  const effects = movesOf(move).map((single) => {
    const whole = new Float64Array(unknowns);
    whole.set(single);
    return times(rows, readings.length, whole);
  });
  const blind: readonly Step[] = solution.exact
    ? []
    : [{ fraction: BLIND, reason: 'beyond the ray trace', reading: undefined }];
  return [
    ...blind,
    ...readings.flatMap((given, k) => {
      const one = { ...given, value: valueIf(given, signs.get(given.entry) ?? 1) };
      const spread = Math.hypot(...effects.map((effect) => effect[k]!));
      return [...(confirmed ? [] : unconfirmedLimit(one)), ...handLimit(one, spread)];
    }),
  ];
}

function unconfirmedLimit({ reading, value, captureRange }: SteeringReading): readonly Step[] {
  const fraction = captureRange / Math.abs(value) - 1;
  if (!(fraction < 1)) return [];
  return [{ fraction: Math.max(LEAST, fraction), reason: 'signs not confirmed', reading: reading.name }];
}

function handLimit({ reading, value, captureRange }: SteeringReading, spread: number): readonly Step[] {
  const grows = COVERED * MOVE_ACCURACY * spread - Math.abs(value);
  if (!(grows > 0)) return [];
  const fraction = (captureRange - Math.abs(value)) / grows;
  return fraction < 1
    ? [{ fraction: Math.max(LEAST, fraction), reason: 'moves by hand', reading: reading.name }]
    : [];
}
