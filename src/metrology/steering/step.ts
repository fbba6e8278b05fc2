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
import { screwMotions, stageTurns } from './stage.ts';
import type { Steering } from './steering.ts';
import { displacementOf, type PartSteering } from './steering-part.ts';
import type { SteeringReading } from './steering-readings.ts';
import { onlySolution } from './steering-signs.ts';
import { type Solution, times } from './steering-solve.ts';

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
  const limits = [
    ...limitsOf(part, confirmed, (solution) => movesOfPart(design, part, solution)),
    ...own.flatMap((each) =>
      limitsOf(each, confirmed, ({ unknowns }) =>
        Array.from(unknowns, (_, k) => unknowns.map((value, j) => (j === k ? value : 0))),
      ),
    ),
  ];
  return limits.reduce((least, next) => (next.fraction < least.fraction ? next : least), WHOLE);
}

type Limited = Pick<PartSteering, 'candidates' | 'problem'>;

function limitsOf(
  { candidates, problem }: Limited,
  confirmed: boolean,
  movesOf: (solution: Solution) => readonly Float64Array[],
): readonly Step[] {
  const solution = onlySolution(candidates);
  const { readings, rows } = problem;
  if (solution === undefined || readings.length === 0) return [];
  const effects = movesOf(solution).map((move) => times(rows, readings.length, move));
  const blind: readonly Step[] = solution.exact
    ? []
    : [{ fraction: BLIND, reason: 'beyond the ray trace', reading: undefined }];
  return [
    ...blind,
    ...readings.flatMap((one, k) => {
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

/** What each screw does of the move, or without a stage each degree of freedom: unknowns of the problem. */
function movesOfPart(
  { scenario: { stage } }: Design,
  { pose: { size }, problem }: PartSteering,
  { unknowns }: Solution,
): readonly Float64Array[] {
  const whole = (six: ArrayLike<number>): Float64Array => {
    const all = new Float64Array(problem.unknowns);
    for (let k = 0; k < 6; k++) all[k] = six[k]!;
    return all;
  };
  if (stage.length === 0)
    return [0, 1, 2, 3, 4, 5].map((k) => whole([0, 1, 2, 3, 4, 5].map((j) => (j === k ? unknowns[k]! : 0))));
  const { turns } = stageTurns(stage, displacementOf(unknowns, size), size);
  return screwMotions(stage, size).map((motion, s) => whole(motion.map((value) => value * turns[s]!)));
}
