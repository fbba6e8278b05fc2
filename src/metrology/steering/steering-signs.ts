/**
 * Readings whose sign was not seen: which combinations of signs agree with the rest, and the one trial move that shows which
 * of them it is. An interferogram looks the same with the whole wave reversed, so that the signs of one entry go together. Beside a tilt bias the
 * reversed wave is another reading: of the pair that is given then, the first is tried as + and the second as −.
 */
import { likeliestSigns } from './sign-search.ts';
import { valueIf } from './steering-readings.ts';
import {
  MOST_SEARCHED,
  type Solution,
  type SteeringProblem,
  solveSteering,
  times,
} from './steering-solve.ts';

export interface Candidate {
  /** The sign taken for each entry of the bench's list whose sign was not seen; of a pair of readings +1 for the first. */
  readonly signs: ReadonlyMap<number, 1 | -1>;
  readonly solution: Solution;
}

/** The one solution where the signs are decided. */
export const onlySolution = ([first, ...others]: readonly Candidate[]): Solution | undefined =>
  others.length === 0 ? first?.solution : undefined;

export interface Trial {
  /** A change of the problem's unknowns, mm. */
  readonly unknowns: Float64Array;
  /** For each entry of unknown sign: the readings' values afterwards, if the sign is + and if it is −; of a pair if it is the first or the second. */
  readonly expected: ReadonlyMap<
    number,
    { readonly ifPlus: readonly Value[]; readonly ifMinus: readonly Value[] }
  >;
}

/** A reading by its index in the problem, and a value in fringes. */
interface Value {
  readonly reading: number;
  readonly fringes: number;
}

/** Up to so many unknown signs every combination is solved with the traced readings, 64 of them. */
const MOST_SOLVED_SIGNS = 6;
/** Up to so many every combination is tried as if readings were linear, a million of them, and the likeliest 64 are then solved. */
const MOST_UNKNOWN_SIGNS = 20;
/** A trial changes each unknown reading by this many fringes, or by five of its uncertainties: enough to see it grow or shrink. */
const TRIAL_FRINGES = 1;
const TRIAL_UNCERTAINTIES = 5;

/** The entries whose sign decides something. */
const unknownEntries = ({ readings }: SteeringProblem): readonly number[] => [
  ...new Set(readings.filter(({ signKnown }) => !signKnown).map(({ entry }) => entry)),
];

/**
 * The solutions for every combination of signs that the readings do not contradict, or, where they contradict all, for the one
 * that they contradict least. None at all where more signs are unknown than are tried out, or where more combinations agree than are told.
 */
export function candidatesOf(problem: SteeringProblem): readonly Candidate[] {
  const unknown = unknownEntries(problem);
  const isLong = unknown.length > MOST_SOLVED_SIGNS && problem.readings.length > MOST_SEARCHED;
  if (unknown.length > MOST_UNKNOWN_SIGNS || isLong) return [];
  const combinations =
    unknown.length > MOST_SOLVED_SIGNS
      ? likeliestSigns(problem, unknown, 2 ** MOST_SOLVED_SIGNS)
      : Array.from(
          { length: 2 ** unknown.length },
          (_, combination) =>
            new Map(unknown.map((entry, bit) => [entry, (combination >> bit) & 1 ? -1 : 1] as const)),
        );
  const all = combinations.map(
    (signs): Candidate => ({ signs, solution: solveSteering(problem, signed(problem, signs)) }),
  );
  const agreeing = all.filter(({ solution }) => !solution.consistency.contradictory);
  if (unknown.length > MOST_SOLVED_SIGNS && agreeing.length === all.length) return [];
  if (agreeing.length > 0) return agreeing;
  return [all.reduce((best, next) => (chiSquared(next) < chiSquared(best) ? next : best))];
}

/** Why a problem has no candidates: in words, for a person. */
export function undecidedSigns(problem: SteeringProblem): string {
  const { length } = unknownEntries(problem);
  return length > MOST_UNKNOWN_SIGNS
    ? `${length} signs are unknown, and at most ${MOST_UNKNOWN_SIGNS} are tried: determine some by a trial move of one reference each`
    : `${length} signs are unknown, and ${2 ** MOST_SOLVED_SIGNS} or more combinations of them agree: determine some by a trial move of one reference each`;
}

/** The trial move, by the gains of the problem: it changes the readings of unknown sign and, as far as that goes, no others. */
export function trialOf(problem: SteeringProblem): Trial | undefined {
  const { readings, estimate, unknowns: n, rows } = problem;
  const unknown = unknownEntries(problem);
  if (unknown.length === 0) return undefined;
  const wanted = Float64Array.from(readings, ({ entry, signKnown, value, perMm, reading }) => {
    if (signKnown) return 0;
    const largest = Math.max(
      ...readings
        .filter((other) => other.entry === entry)
        .map((other) => Math.abs(other.value * other.perMm)),
    );
    const fringes = Math.max(TRIAL_FRINGES, TRIAL_UNCERTAINTIES * reading.u * perMm);
    return (fringes * value) / largest;
  });
  const change = times(estimate.gains, n, wanted);
  const shown = times(rows, readings.length, change);
  const after = (entry: number, sign: 1 | -1): readonly Value[] =>
    readings.flatMap((each, reading) =>
      each.entry === entry
        ? [{ reading, fringes: (valueIf(each, sign) + shown[reading]!) * each.perMm }]
        : [],
    );
  const expected = new Map(
    unknown.map((entry) => [entry, { ifPlus: after(entry, 1), ifMinus: after(entry, -1) }] as const),
  );
  return { unknowns: change, expected };
}

const chiSquared = ({ solution }: Candidate): number => solution.consistency.chiSquared;

function signed({ readings }: SteeringProblem, signs: ReadonlyMap<number, 1 | -1>): Float64Array {
  return Float64Array.from(readings, (one) => valueIf(one, signs.get(one.entry) ?? 1));
}
