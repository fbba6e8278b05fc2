/**
 * What readings come to once moves are made: of patches, of rings and of the null. In the readings' own units, fringes or waves; moves in mm
 * and rad. By the exact trace from where they say that all stands; to first order where that does not reach, and for each move by itself.
 * Lengths measured otherwise are left out: no camera shows them.
 */
import type { Design } from '../../design/design.ts';
import { scale } from '../../geometry/vector.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { BenchMove } from '../../scenario/bench-session.ts';
import type { Steering } from './steering.ts';
import { labelOf, type SteeringReading, valueIf } from './steering-readings.ts';
import { type Candidate, onlySolution } from './steering-signs.ts';
import { type SteeringProblem, times } from './steering-solve.ts';
import { singly } from './told-moves.ts';

/** Of one value of a reading. */
interface PredictedValue {
  readonly label: string;
  /** Which of the patch's senses or of a ring's counts, or of the null the index in its list. */
  readonly place: number;
  readonly before: number;
  readonly change: number;
  /** What each move made by itself does of it, to first order. */
  readonly singly: readonly number[];
  readonly u: number;
}

export interface PredictedReading {
  readonly reading: Exclude<BenchReading, { kind: 'length' }>;
  /** What moves it: `hologram`, `part`, or the reference's id. */
  readonly mover: string;
  readonly values: readonly PredictedValue[];
}

/**
 * Of the readings whose signs are known, or decided by the others. While the hologram moves only its own rings are predicted: what the others then show depends on the beam
 * too. While it stands its rings are not: they stay as they are.
 */
export function predictedReadings(
  design: Design,
  before: Steering,
  moves: BenchMove,
): readonly PredictedReading[] {
  const single = singly(design, moves);
  return moversOf(before, moves).flatMap(
    ({ mover, problem, found, signs, delta }): readonly PredictedReading[] => {
      const { readings, rows } = problem;
      const byOne = (move: BenchMove): Float64Array => times(rows, readings.length, delta(move));
      const change = exactChange(problem, found, delta(moves)) ?? byOne(moves);
      const alone = (single.get(mover) ?? []).map(byOne);
      const entries = [...new Set(readings.map(({ entry }) => entry))];
      return entries.flatMap((entry): PredictedReading[] => {
        const reading = before.bench[entry]!;
        if (reading.kind === 'length' || !(reading.signKnown || found !== undefined)) return [];
        const values = readings.flatMap((one, k): PredictedValue[] => {
          if (one.entry !== entry) return [];
          const { perMm, reading: of } = one;
          const value = valueIf(one, signs.get(entry) ?? 1);
          return [
            {
              label: labelOf(one),
              place: placeIn(reading, one),
              before: value * perMm,
              change: change[k]! * perMm,
              singly: alone.map((each) => each[k]! * perMm),
              u: of.u * perMm,
            },
          ];
        });
        return [{ reading, mover, values }];
      });
    },
  );
}

/** Something that is moved, and how a move of the bench changes the unknowns of its problem. */
interface Mover {
  readonly mover: string;
  readonly problem: SteeringProblem;
  /** Undefined where signs are not decided. */
  readonly found: Float64Array | undefined;
  /** Of the entries whose sign was not seen. */
  readonly signs: Candidate['signs'];
  readonly delta: (move: BenchMove) => Float64Array;
}

function moversOf({ hologram, part, references }: Steering, moves: BenchMove): readonly Mover[] {
  const solved = ({ problem, candidates }: Pick<Steering['part'], 'problem' | 'candidates'>) => ({
    problem,
    found: onlySolution(candidates)?.unknowns,
    signs: candidates[0]?.signs ?? new Map<number, 1 | -1>(),
  });
  if (moves.hologram !== undefined)
    return hologram === undefined
      ? []
      : [{ mover: 'hologram', ...solved(hologram), delta: (move) => hologram.unknownsOf(move.hologram) }];
  const { size } = part.pose;
  const ofPart: Mover = {
    mover: 'part',
    ...solved(part),
    delta: ({ part: move }) => {
      const unknowns = new Float64Array(part.problem.unknowns);
      if (move !== undefined) unknowns.set([...move.translation, ...scale(move.rotation, size)]);
      return unknowns;
    },
  };
  const own = references
    .filter(({ reference }) => !movesWithPart(reference))
    .map((each): Mover => {
      const { id } = each.reference;
      return {
        mover: id,
        ...solved(each),
        delta: (move) => Float64Array.from(move.references.get(id) ?? [0, 0, 0]),
      };
    });
  return [...(part.readings.length === 0 ? [] : [ofPart]), ...own];
}

/** mm of each reading; undefined where the trace does not reach. */
function exactChange(
  { predict }: SteeringProblem,
  found: Float64Array | undefined,
  delta: Float64Array,
): Float64Array | undefined {
  const was = found && predict(found);
  const is = found && predict(found.map((value, k) => value + delta[k]!));
  return was && is?.map((value, k) => value - was[k]!);
}

const placeIn = (reading: BenchReading, { reading: { from }, term }: SteeringReading): number =>
  reading.kind === 'null'
    ? reading.values.findIndex((one) => one.term === term!.term && one.part === term!.part)
    : from!.sense;
