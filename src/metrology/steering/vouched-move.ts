/**
 * The part of a move that the readings can vouch for. Along combinations of degrees that the readings see weakly, what they tell is mostly
 * their own noise: moves that follow it are large, hold each other in balance only as well as they are made, and so spoil what is seen well.
 * Left out is what is under its own standard uncertainty; it stays as near to its place as the readings can tell. mm.
 *
 * The combinations are the eigenvectors of the covariance by the readings' own uncertainties, rotations counted at the part's size: their
 * estimates are not correlated, so that what is left out of one leaves the best estimate of the others as it is (principal components; I. T.
 * Jolliffe, *Principal Component Analysis*, ch. 8). Of a symmetrical bench several are equally uncertain and have no directions of their
 * own: those are judged together, by the mean of their squares.
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Candidate } from './steering-signs.ts';
import { onlySolution } from './steering-signs.ts';
import type { SteeringProblem } from './steering-solve.ts';

/** What the readings tell along combinations that are equally uncertain. */
interface Combination {
  /** The displacement found along them, over the unknowns. */
  readonly along: Float64Array;
  /** Σ of its squares, each over its variance, and of how many. */
  readonly chiSquared: number;
  readonly count: number;
}

export interface VouchedMove {
  /** The displacement to undo, over the first unknowns; 0 where all is left out. */
  readonly unknowns: Float64Array;
  /** What is left of what was found. */
  readonly leftOut: Float64Array;
  /** Whether anything is to be moved. */
  readonly isOver: boolean;
  /** χ² of all that was found and its degrees of freedom: whether all together is noise. */
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
}

/** Of the first `n` unknowns, those that are moved: slides on what is touched are not. Undefined where signs are not decided. */
export function vouchedMove(
  { problem, candidates }: { readonly problem: SteeringProblem; readonly candidates: readonly Candidate[] },
  n: number,
): VouchedMove | undefined {
  const solution = onlySolution(candidates);
  if (solution === undefined) return undefined;
  const covariance = ownCovariance(problem, n);
  const combinations = combinationsOf(covariance, n, solution.unknowns);
  const made = combinations.filter(({ chiSquared, count }) => chiSquared > count);
  const small = combinations.filter((one) => !made.includes(one)).sort((a, b) => relative(a) - relative(b));
  // Small ones may yet add up to more than the uncertainty of a degree: the largest of them are moved too.
  while (small.length > 0 && exceeds(sumOf(small, n), covariance)) made.push(small.pop()!);
  return {
    unknowns: sumOf(made, n),
    leftOut: sumOf(small, n),
    isOver: made.length > 0,
    chiSquared: combinations.reduce((sum, each) => sum + each.chiSquared, 0),
    degreesOfFreedom: combinations.reduce((sum, { count }) => sum + count, 0),
  };
}

/** Variances this much under the largest are of what is not seen. */
const UNSEEN = 1e-12;
/** Variances this near to each other, relatively, are equal: far more than rounding, far less than what matters. */
const EQUAL = 0.01;

function combinationsOf(covariance: Float64Array, n: number, found: Float64Array): readonly Combination[] {
  const { values, vectors } = symmetricEigen(covariance, n);
  const groups: { largest: number; members: number[] }[] = [];
  vectors.forEach((_, k) => {
    if (!(values[k]! > UNSEEN * values[0]!)) return;
    const last = groups.at(-1);
    if (last !== undefined && values[k]! > (1 - EQUAL) * last.largest) last.members.push(k);
    else groups.push({ largest: values[k]!, members: [k] });
  });
  return groups.map(({ members }): Combination => {
    const along = new Float64Array(n);
    let chiSquared = 0;
    for (const k of members) {
      const v = vectors[k]!;
      const size = v.reduce((sum, value, i) => sum + value * found[i]!, 0);
      for (let i = 0; i < n; i++) along[i]! += size * v[i]!;
      chiSquared += size ** 2 / values[k]!;
    }
    return { along, chiSquared, count: members.length };
  });
}

/** By the readings' own uncertainties alone, n × n. */
function ownCovariance({ estimate, readings }: SteeringProblem, n: number): Float64Array {
  const m = readings.length;
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      for (const [k, { reading }] of readings.entries())
        covariance[i * n + j]! += estimate.gains[i * m + k]! * estimate.gains[j * m + k]! * reading.u ** 2;
  return covariance;
}

const relative = ({ chiSquared, count }: Combination): number => chiSquared / count;

function sumOf(combinations: readonly Combination[], n: number): Float64Array {
  const sum = new Float64Array(n);
  for (const { along } of combinations) for (let i = 0; i < n; i++) sum[i]! += along[i]!;
  return sum;
}

const exceeds = (move: Float64Array, covariance: Float64Array): boolean =>
  move.some((value, k) => value ** 2 > covariance[k * move.length + k]!);
