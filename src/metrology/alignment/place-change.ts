/**
 * What clamping or reseating did to the part: the place found after it less the one before, and whether the readings can tell that from
 * nothing. Errors that stand in both rounds alike (the pattern, the waves, a ball's radius) cancel as far as both rounds make the same of
 * them; the readings' own do not (JCGM 100, 5.2.2: correlated quantities). With D what the difference makes of each reading and each error,
 * its covariance is the sum of D Dᵀ, and χ² = dᵀ C⁻¹ d over what is observed says how likely a change this large is without one.
 * mm and rad, part frame.
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import type { Term } from '../budget/error-source.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import type { Reading } from '../budget/readings.ts';
import { estimatePose } from '../estimate/pose-estimate.ts';
import type { PartSteering } from '../steering/steering-part.ts';
import type { FoundPlace } from './found-place.ts';

export interface Round {
  readonly part: PartSteering;
  readonly place: FoundPlace;
}

interface PlaceChange {
  /** Six numbers; undefined where one of the rounds does not observe the degree. */
  readonly change: readonly (number | undefined)[];
  /** One standard uncertainty of the change, had nothing moved; 0 for what is undefined in `change`. */
  readonly sigma: readonly number[];
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** Of a change this large or larger without any. */
  readonly probability: number;
  readonly significant: boolean;
}

/** A change less likely than this without any is one: 95 %, the usual level (common practice). */
const SIGNIFICANCE = 0.05;

/** What taking a reference out of its nest and putting it back draws anew: where it sits, and which way its apex or its form stands. */
export const RESEATED: ReadonlySet<Term> = new Set<Term>(['nest', 'apex centring', 'ball form']);
export const NOTHING_ANEW: ReadonlySet<Term> = new Set<Term>();

/** An eigenvalue of the covariance below this part of the largest is rounding: nothing observes that combination. */
const RANK = 1e-10;

/** `anew`: terms whose errors are others after it than before. */
export function changeBetween(
  design: Design,
  before: Round,
  after: Round,
  anew: ReadonlySet<Term>,
  practice: Practice = COMMON_PRACTICE,
): PlaceChange {
  const observed = before.place.observed.map((seen, k) => seen && after.place.observed[k]!);
  const difference = after.place.six.map((part, k) => (observed[k] ? part - before.place.six[k]! : 0));
  const covariance = covarianceOf(design, before, after, anew, practice);
  const { size } = after.part.pose;
  const levers = difference.map((_, k) => (observed[k] ? (k < 3 ? 1 : size) : 0));
  const scaled = covariance.map((entry, at) => entry * levers[Math.floor(at / 6)]! * levers[at % 6]!);
  const { values, vectors } = symmetricEigen(scaled, 6);
  const seen = [...values.keys()].filter((k) => values[k]! > 0 && values[k]! > RANK * values[0]!);
  const chiSquared = seen.reduce((sum, k) => {
    const along = difference.reduce((total, part, i) => total + part * levers[i]! * vectors[k]![i]!, 0);
    return sum + (along * along) / values[k]!;
  }, 0);
  const probability = seen.length === 0 ? 1 : chiSquaredTail(chiSquared, seen.length);
  return {
    change: difference.map((part, k) => (observed[k] ? part : undefined)),
    sigma: difference.map((_, k) => (observed[k] ? Math.sqrt(Math.max(0, covariance[k * 7]!)) : 0)),
    chiSquared,
    degreesOfFreedom: seen.length,
    probability,
    significant: probability < SIGNIFICANCE,
  };
}

/** 6 × 6 row-major, mm and rad. */
function covarianceOf(
  design: Design,
  before: Round,
  after: Round,
  anew: ReadonlySet<Term>,
  practice: Practice,
): Float64Array {
  const sum = new Float64Array(36);
  const add = (column: Float64Array): void => {
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) sum[i * 6 + j]! += column[i]! * column[j]!;
  };
  const rounds = [before, after].map(({ part: { pose } }) => {
    const numbers = new Map(pose.readings.map((reading, k) => [keyOf(reading), k]));
    const gain = (degree: number, key: string): number => {
      const k = numbers.get(key);
      return k === undefined ? 0 : pose.full.gains[degree * pose.readings.length + k]!;
    };
    for (const [key, k] of numbers)
      add(Float64Array.from({ length: 6 }, (_, degree) => gain(degree, key) * pose.readings[k]!.u));
    return gain;
  });
  const all = new Map(
    [before, after].flatMap(({ part }) => part.pose.readings.map((reading) => [keyOf(reading), reading])),
  );
  const keys = [...all.keys()];
  for (const { term, u, effects } of estimatePose(design, practice, [...all.values()]).sources) {
    const [first, second] = rounds.map((gain) =>
      Float64Array.from({ length: 6 }, (_, degree) =>
        effects.at.reduce(
          (total, reading, k) => total + gain(degree, keys[reading]!) * effects.by[k]! * u,
          0,
        ),
      ),
    );
    if (anew.has(term)) {
      add(first!);
      add(second!);
    } else add(first!.map((part, k) => second![k]! - part));
  }
  return sum;
}

/** Tells a reading from the others of a design. */
const keyOf = ({ name, from }: Reading): string =>
  from === undefined ? `length ${name}` : `patch ${from.patch.id} ${from.sense} ${name}`;
