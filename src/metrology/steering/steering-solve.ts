/**
 * From readings to the displacement that shows them: the linear estimate first, then steps with its gains until the exact
 * traced return shows what was read. All in mm; the unknowns as the problem has them.
 *
 * The gains are those of the design place (simplified Newton method: J. M. Ortega, W. C. Rheinboldt, *Iterative Solution of
 * Nonlinear Equations in Several Variables*, 7.1), so that nothing is ever moved along what no reading sees.
 */

import type { ErrorSource } from '../budget/error-source.ts';
import { type Consistency, consistencyOf } from '../estimate/consistency.ts';
import type { LinearEstimate } from '../estimate/linear-estimate.ts';
import type { SteeringReading } from './steering-readings.ts';

export interface SteeringProblem {
  readonly readings: readonly SteeringReading[];
  /** Readings × unknowns, row-major. */
  readonly rows: Float64Array;
  readonly unknowns: number;
  readonly estimate: LinearEstimate;
  readonly sources: readonly ErrorSource[];
  /** The exact readings at these unknowns; undefined where light is lost. */
  readonly predict: (unknowns: Float64Array) => Float64Array | undefined;
}

export interface Solution {
  readonly unknowns: Float64Array;
  /** Read less expected, mm, one a reading. */
  readonly residuals: readonly number[];
  /** False: the exact trace does not reach these readings, and the unknowns are those of the linear estimate. */
  readonly exact: boolean;
  readonly consistency: Consistency;
}

/** Steps shorter than this end the search, mm: a thousandth of the finest reading there is. */
const SETTLED = 1e-8;
/** From the edge of the capture range it takes three to five. */
const MOST_STEPS = 40;

/** Readings of one problem with which slips and many signs are searched for: the work grows with their cube. */
export const MOST_SEARCHED = 500;

/** The unknowns that `values` (one a reading, mm) tell of. */
export function solveSteering(problem: SteeringProblem, values: Float64Array): Solution {
  const { unknowns: n, estimate, predict } = problem;
  const linear = times(estimate.gains, n, values);
  let unknowns = linear;
  let predicted = predict(unknowns);
  let settled = false;
  for (let step = 0; step < MOST_STEPS && predicted !== undefined && !settled; step++) {
    const left = values.map((value, k) => value - predicted![k]!);
    const change = times(estimate.gains, n, left);
    unknowns = unknowns.map((value, k) => value + change[k]!);
    settled = Math.max(...change.map(Math.abs)) < SETTLED;
    predicted = predict(unknowns);
  }
  const exact = settled && predicted !== undefined;
  if (!exact) unknowns = linear;
  const expected = exact ? predicted! : times(problem.rows, values.length, linear);
  const residuals = Array.from(values, (value, k) => value - expected[k]!);
  return { unknowns, residuals, exact, consistency: consistencyOf(fitted(problem), residuals) };
}

/** The problem as its consistency is judged. */
export const fitted = ({ rows, unknowns, estimate, readings, sources }: SteeringProblem) => ({
  rows,
  unknowns,
  covariance: estimate.covariance,
  rank: unknowns - estimate.unobserved.length,
  u: readings.map(({ reading }) => reading.u),
  sources,
});

/** A row-major matrix of `rows` rows times a vector. */
export function times(matrix: Float64Array, rows: number, vector: Float64Array): Float64Array {
  const columns = vector.length;
  const product = new Float64Array(rows);
  for (let i = 0; i < rows; i++)
    for (let k = 0; k < columns; k++) product[i]! += matrix[i * columns + k]! * vector[k]!;
  return product;
}
