/**
 * Readings that contradict each other: which entries are suspect, and which single slip of the operator's would explain them, tried one by
 * one: a sign, two readings exchanged, a whole fringe. What is found is a suggestion, never applied.
 *
 * Linear about what the contradicting readings came to: χ² of readings v is vᵀWv (see consistency.ts). Without the readings I it is less by
 * (Wv)_Iᵀ W_II⁻¹ (Wv)_I, with as many degrees of freedom fewer (Baarda 1968; see consistency.ts). The likeliest slips are then solved with
 * the traced readings, and only those are told that do not contradict. mm.
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import { CONTRADICTION, residualWeights } from '../estimate/consistency.ts';
import { type SteeringReading, valueIf } from './steering-readings.ts';
import type { Candidate } from './steering-signs.ts';
import { fitted, MOST_SEARCHED, type SteeringProblem, solveSteering, times } from './steering-solve.ts';

/** A problem with the solution that its readings contradict least. */
export interface Judged {
  readonly problem: SteeringProblem;
  readonly candidate: Candidate;
}

export interface Slip {
  readonly kind: 'sign' | 'exchange' | 'fringe';
  /** One, or the two that are exchanged: entries of the bench's list where a whole entry is meant. */
  readonly readings: readonly SteeringReading[];
  readonly whole: boolean;
  /** Of a fringe too few, +1: so many are to be added. */
  readonly add: number;
  /** χ² probability of the readings with the slip undone. */
  readonly probability: number;
}

interface Linear extends Judged {
  /** As the bench gives them, with the signs taken. */
  readonly values: Float64Array;
  readonly weights: Float64Array;
  /** W v, v linear about the solution. */
  readonly weighted: Float64Array;
  readonly chiSquared: number;
  readonly freedom: number;
}

/** Eigenvalues of W_II this much under the largest weight belong to readings that no other one checks. */
const UNCHECKED = 1e-9;
/** Slips that are solved with the traced readings. */
const MOST_SOLVED = 12;
/** Entries of which every two are tried exchanged. */
const MOST_EXCHANGED = 200;

/** Entries of the bench's list without any one of which the others agree: the wrong one is among them, if only one is wrong. */
export function suspectEntries(judged: readonly Judged[]): readonly number[] {
  if (isTooLarge(judged)) return [];
  const linear = judged.map(linearised);
  return entriesOf(judged).filter((entry) => linear.every((one) => agreesWithout(one, entry)));
}

/** Single slips that would explain the readings, the likeliest first. */
export function likelySlips(judged: readonly Judged[]): readonly Slip[] {
  if (isTooLarge(judged)) return [];
  const linear = judged.map(linearised);
  const tried = slipsOf(judged).map((slip) => ({
    slip,
    probability: Math.min(...linear.map((one) => linearProbability(one, slip.change))),
  }));
  const best = tried.toSorted((a, b) => b.probability - a.probability).slice(0, MOST_SOLVED);
  return best
    .map(({ slip: { change, ...slip } }): Slip => {
      const solved = linear.map(({ problem, values }) => {
        const changed = values.map((value, k) => value + (change.get(problem.readings[k]!) ?? 0));
        return solveSteering(problem, changed).consistency.probability;
      });
      return { ...slip, probability: Math.min(...solved) };
    })
    .filter(({ probability }) => probability >= CONTRADICTION)
    .toSorted((a, b) => b.probability - a.probability);
}

const isTooLarge = (judged: readonly Judged[]): boolean =>
  judged.some(({ problem }) => problem.readings.length > MOST_SEARCHED);

function linearised({ problem, candidate }: Judged): Linear {
  const { readings, rows, unknowns, estimate } = problem;
  const { signs, solution } = candidate;
  const m = readings.length;
  const weights = residualWeights(fitted(problem));
  const shown = times(rows, m, solution.unknowns);
  const weighted = times(
    weights,
    m,
    shown.map((value, k) => value + solution.residuals[k]!),
  );
  return {
    problem,
    candidate,
    values: Float64Array.from(readings, (one) => valueIf(one, signs.get(one.entry) ?? 1)),
    weights,
    weighted,
    chiSquared: solution.consistency.chiSquared,
    freedom: m - unknowns + estimate.unobserved.length,
  };
}

const entriesOf = (judged: readonly Judged[]): readonly number[] => [
  ...new Set(judged.flatMap(({ problem }) => problem.readings.map(({ entry }) => entry))),
];

function agreesWithout({ problem, weights, weighted, chiSquared, freedom }: Linear, entry: number): boolean {
  const m = problem.readings.length;
  const at = problem.readings.flatMap((reading, k) => (reading.entry === entry ? [k] : []));
  const block = Float64Array.from(at.flatMap((i) => at.map((k) => weights[i * m + k]!)));
  const largest = problem.readings.reduce((most, _, k) => Math.max(most, weights[k * m + k]!), 0);
  const { values, vectors } = symmetricEigen(block, at.length);
  let [left, degrees] = [chiSquared, freedom];
  vectors.forEach((vector, k) => {
    if (!(values[k]! > UNCHECKED * largest)) return;
    const through = at.reduce((sum, i, j) => sum + weighted[i]! * vector[j]!, 0);
    left -= through ** 2 / values[k]!;
    degrees--;
  });
  return degrees <= 0 || chiSquaredTail(Math.max(0, left), degrees) >= CONTRADICTION;
}

type Change = ReadonlyMap<SteeringReading, number>;

function linearProbability(
  { problem, weights, weighted, chiSquared, freedom }: Linear,
  change: Change,
): number {
  const m = problem.readings.length;
  const at = problem.readings.flatMap((reading, k) => (change.has(reading) ? [k] : []));
  let changed = chiSquared;
  for (const i of at) {
    const own = change.get(problem.readings[i]!)!;
    changed += 2 * own * weighted[i]!;
    for (const k of at) changed += own * weights[i * m + k]! * change.get(problem.readings[k]!)!;
  }
  return freedom <= 0 ? 1 : chiSquaredTail(Math.max(0, changed), freedom);
}

type Tried = Omit<Slip, 'probability'> & { readonly change: Change };

function slipsOf(judged: readonly Judged[]): readonly Tried[] {
  const signs = new Map(judged.flatMap(({ candidate }) => [...candidate.signs]));
  const readings = [...new Set(judged.flatMap(({ problem }) => problem.readings))];
  const taken = (one: SteeringReading): number => valueIf(one, signs.get(one.entry) ?? 1);
  const byEntry = entriesOf(judged).map((entry) => readings.filter((one) => one.entry === entry));
  const counted = byEntry.filter(([first]) => Number.isFinite(first!.captureRange));
  return [
    ...byEntry.flatMap((own) => [
      ...(own.length > 1 ? [signSlip(own, taken, true)] : []),
      ...own.map((one) => signSlip([one], taken, own.length === 1)),
    ]),
    ...(counted.length > MOST_EXCHANGED ? [] : exchanges(counted, taken)),
    ...counted.flat().flatMap((one) =>
      [1, -1].map((add): Tried => {
        const change = new Map([[one, add / one.perMm]]);
        return { kind: 'fringe', readings: [one], whole: false, add, change };
      }),
    ),
  ].filter(({ change }) => [...change].some(([{ reading }, by]) => Math.abs(by) > reading.u));
}

type Taken = (reading: SteeringReading) => number;

const signSlip = (own: readonly SteeringReading[], taken: Taken, whole: boolean): Tried => ({
  kind: 'sign',
  readings: own,
  whole,
  add: 0,
  change: new Map(own.map((one) => [one, -2 * taken(one)])),
});

/** Every two entries with as many values, and the two tilts of one. */
function exchanges(entries: readonly (readonly SteeringReading[])[], taken: Taken): readonly Tried[] {
  const becoming = (one: SteeringReading, other: SteeringReading): [SteeringReading, number] => [
    one,
    (taken(other) * other.perMm) / one.perMm - taken(one),
  ];
  const between = entries.flatMap((own, k) =>
    entries
      .slice(k + 1)
      .filter((other) => other.length === own.length)
      .map((other): Tried => {
        const change = new Map(own.flatMap((one, j) => [becoming(one, other[j]!), becoming(other[j]!, one)]));
        return { kind: 'exchange', readings: [own[0]!, other[0]!], whole: true, add: 0, change };
      }),
  );
  const within = entries.flatMap(([a, b]): readonly Tried[] => {
    if (a === undefined || b === undefined) return [];
    const change = new Map([becoming(a, b), becoming(b, a)]);
    return [{ kind: 'exchange', readings: [a, b], whole: false, add: 0, change }];
  });
  return [...between, ...within];
}
