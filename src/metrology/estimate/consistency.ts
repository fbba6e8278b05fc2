/**
 * Whether readings agree with the one estimate made from them, and which disagrees most: the χ² of their residuals, and each
 * one's residual over that residual's own standard uncertainty (W. Baarda, *A Testing Procedure for Use in Geodetic Networks*,
 * 1968, for correlated readings). mm; rows and covariances as in linear-estimate.ts.
 */

import { chiSquaredTail } from '../../algebra/distributions.ts';
import { choleskyFactor } from '../../algebra/triangular-factors.ts';
import type { ErrorSource } from '../budget/error-source.ts';

/** Readings whose χ² is less likely than this contradict each other; a normalised residual of 3.29 by itself (Baarda's α₀). */
export const CONTRADICTION = 0.001;

export interface Consistency {
  readonly chiSquared: number;
  /** 0: nothing is read twice, and nothing can contradict. */
  readonly degreesOfFreedom: number;
  /** Of a χ² this large or larger from the stated uncertainties alone; 1 without degrees of freedom. */
  readonly probability: number;
  readonly contradictory: boolean;
  /** Of each reading; undefined for one that no other checks. */
  readonly normalised: readonly (number | undefined)[];
  /** Indices of the readings with the largest normalised residual: several where the others cannot tell them apart. */
  readonly worst: readonly number[];
}

interface Fitted {
  readonly rows: Float64Array;
  readonly unknowns: number;
  /** Of the unknowns, with no part along what is not observed. */
  readonly covariance: Float64Array;
  readonly rank: number;
  readonly u: readonly number[];
  readonly sources: readonly ErrorSource[];
}

/** A reading of which the others check less than this share says nothing about itself. */
const LEAST_REDUNDANCY = 1e-6;
/** Normalised residuals this near to the largest, relatively, are not told from it. */
const TIE = 0.01;
/** A reading's own uncertainty is taken as this share of what it has in common with others at least, for the factor's sake. */
const LEAST_OWN = 1e-5;

export function consistencyOf(
  { rows, unknowns: n, covariance, rank, u, sources }: Fitted,
  residuals: readonly number[],
): Consistency {
  const m = residuals.length;
  const degreesOfFreedom = m - rank;
  if (degreesOfFreedom <= 0) {
    const normalised = residuals.map(() => undefined);
    return {
      chiSquared: 0,
      degreesOfFreedom: 0,
      probability: 1,
      contradictory: false,
      normalised,
      worst: [],
    };
  }
  const sigma = covarianceOfReadings(u, sources);
  const inverse = invertLower(choleskyFactor(sigma, m), m);
  const white = timesLower(inverse, m, Float64Array.from(residuals), 1);
  const whiteRows = timesLower(inverse, m, rows, n);
  const chiSquared = white.reduce((sum, value) => sum + value * value, 0);
  const probability = chiSquaredTail(chiSquared, degreesOfFreedom);
  const normalised = residuals.map((_, i) => {
    // Column i of L⁻¹: Σ⁻¹r and the diagonal of Σ⁻¹ − Σ⁻¹ J C Jᵀ Σ⁻¹ through it.
    let [weighted, own] = [0, 0];
    const seen = new Float64Array(n);
    for (let row = i; row < m; row++) {
      const entry = inverse[row * m + i]!;
      weighted += entry * white[row]!;
      own += entry * entry;
      for (let j = 0; j < n; j++) seen[j]! += entry * whiteRows[row * n + j]!;
    }
    let taken = 0;
    for (let j = 0; j < n; j++)
      for (let k = 0; k < n; k++) taken += seen[j]! * covariance[j * n + k]! * seen[k]!;
    const left = own - taken;
    return left * sigma[i * m + i]! > LEAST_REDUNDANCY ? weighted / Math.sqrt(left) : undefined;
  });
  const sizes = normalised.map((value) => Math.abs(value ?? 0));
  const largest = Math.max(...sizes);
  const worst = sizes.flatMap((size, k) => (size > 0 && size >= (1 - TIE) * largest ? [k] : []));
  return {
    chiSquared,
    degreesOfFreedom,
    probability,
    contradictory: probability < CONTRADICTION,
    normalised,
    worst,
  };
}

/**
 * W = Σ⁻¹ − Σ⁻¹ J C Jᵀ Σ⁻¹, m × m row-major: χ² of the residuals that readings v leave is vᵀ W v, as long as they are linear in the unknowns.
 */
export function residualWeights({ rows, unknowns: n, covariance, u, sources }: Fitted): Float64Array {
  const m = u.length;
  const inverse = invertLower(choleskyFactor(covarianceOfReadings(u, sources), m), m);
  const whiteRows = timesLower(inverse, m, rows, n);
  const inner = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let k = 0; k < m; k++) {
      let taken = 0;
      for (let a = 0; a < n; a++)
        for (let b = 0; b < n; b++)
          taken += whiteRows[i * n + a]! * covariance[a * n + b]! * whiteRows[k * n + b]!;
      inner[i * m + k] = (i === k ? 1 : 0) - taken;
    }
  return transposed(timesUpper(inverse, m, transposed(timesUpper(inverse, m, inner), m)), m);
}

/** Lᵀ⁻¹ as given by L⁻¹, times m columns. */
function timesUpper(lower: Float64Array, m: number, right: Float64Array): Float64Array {
  const product = new Float64Array(m * m);
  for (let row = 0; row < m; row++)
    for (let k = row; k < m; k++)
      for (let j = 0; j < m; j++) product[row * m + j]! += lower[k * m + row]! * right[k * m + j]!;
  return product;
}

const transposed = (matrix: Float64Array, m: number): Float64Array =>
  matrix.map((_, k) => matrix[(k % m) * m + Math.floor(k / m)]!);

/** Each reading's own variance, and what the sources give several in common. */
function covarianceOfReadings(u: readonly number[], sources: readonly ErrorSource[]): Float64Array {
  const m = u.length;
  const sigma = new Float64Array(m * m);
  for (const { effects, u: size } of sources) {
    const { at, by } = effects;
    at.forEach((i, k) => {
      at.forEach((j, l) => {
        sigma[i * m + j]! += by[k]! * size * by[l]! * size;
      });
    });
  }
  for (let i = 0; i < m; i++) {
    const own = Math.max(u[i]! * u[i]!, LEAST_OWN * LEAST_OWN * sigma[i * m + i]!);
    sigma[i * m + i]! += own;
  }
  return sigma;
}

function invertLower(l: Float64Array, m: number): Float64Array {
  const inverse = new Float64Array(m * m);
  for (let column = 0; column < m; column++) {
    for (let row = column; row < m; row++) {
      let sum = row === column ? 1 : 0;
      for (let k = column; k < row; k++) sum -= l[row * m + k]! * inverse[k * m + column]!;
      inverse[row * m + column] = sum / l[row * m + row]!;
    }
  }
  return inverse;
}

function timesLower(lower: Float64Array, m: number, right: Float64Array, columns: number): Float64Array {
  const product = new Float64Array(m * columns);
  for (let row = 0; row < m; row++)
    for (let k = 0; k <= row; k++)
      for (let j = 0; j < columns; j++)
        product[row * columns + j]! += lower[row * m + k]! * right[k * columns + j]!;
  return product;
}
