/**
 * Linear least squares by Householder QR with column pivoting, never by the normal equations.
 * min ‖W(A x − b)‖: A is m × n, row-major in a Float64Array; W the diagonal of `weights` (1/σ of each row).
 * G. H. Golub, C. F. Van Loan, *Matrix Computations*, ch. 5; refinement by Å. Björck, BIT 7, 322 (1967).
 */
import { refine, residualsOf } from './least-squares-refinement.ts';
import { columnNorm, factorise, type PivotedQr, solveFactorised } from './pivoted-qr.ts';

export interface LeastSquaresOptions {
  /** One a row, 1/σ; all ones where left out. */
  readonly weights?: Float64Array;
  /**
   * Whether columns are first brought to a like norm (by powers of two, without rounding), so that rank and pivots do not
   * depend on their units. Leave it off where a column of mere rounding noise must count as empty. Default true.
   */
  readonly scaleColumns?: boolean;
  /** Pivots below this fraction of the largest end the rank. Default max(m, n) · 2⁻⁵². */
  readonly rankTolerance?: number;
  /** Steps of iterative refinement with residuals in doubled precision. Default 0. */
  readonly refinementSteps?: number;
}

interface LeastSquaresSolution {
  /** x, n long. Unknowns beyond the rank are 0: a basic solution, not that of least norm. */
  readonly solution: Float64Array;
  /** b − A x of every row, unweighted. */
  readonly residuals: Float64Array;
  /**
   * F, n × n row-major, with F·Fᵀ = (Aᵀ W² A)⁻¹: the covariance of x where the weights are 1/σ. Rows of unknowns beyond the
   * rank are NaN, since nothing bounds them.
   */
  readonly covarianceFactor: Float64Array;
  readonly rank: number;
}

/**
 * Solves min ‖W(A x − b)‖. `rows` is A, row-major, m × `columns`; `values` is b, m long.
 * Throws a RangeError where sizes do not fit or an entry is not finite.
 */
export function solveLeastSquares(
  rows: Float64Array,
  columns: number,
  values: Float64Array,
  options: LeastSquaresOptions = {},
): LeastSquaresSolution {
  return leastSquaresOf(rows, columns, values.length, options)(values);
}

/** The same for many b: A, m × `columns`, is factorised once, and is not to change. */
export function leastSquaresOf(
  rows: Float64Array,
  columns: number,
  m: number,
  options: LeastSquaresOptions = {},
): (values: Float64Array) => LeastSquaresSolution {
  const n = columns;
  const { weights } = options;
  requireSystem(rows, n, m, weights);

  const weighted = rows.slice();
  if (weights !== undefined) weightRows(weighted, weights, n);
  const scales = options.scaleColumns === false ? new Float64Array(n).fill(1) : equilibrate(weighted, m, n);

  const tolerance = options.rankTolerance ?? Math.max(m, n) * Number.EPSILON;
  const qr = factorise(weighted.slice(), m, n, tolerance);
  const covarianceFactor = unpivotedFactor(qr, scales);

  return (values) => {
    if (values.length !== m)
      throw new RangeError(`${values.length} values for ${m} rows; expected one a row`);
    requireFinite(values);
    const target = weights === undefined ? values : values.map((value, row) => value * weights[row]!);
    const scaled = solveFactorised(qr, target);
    if (qr.rank === n && (options.refinementSteps ?? 0) > 0) {
      refine(qr, weighted, target, scaled, options.refinementSteps!);
    }
    const solution = scaled.map((value, unknown) => value * scales[unknown]!);
    return { solution, residuals: residualsOf(rows, n, values, solution), covarianceFactor, rank: qr.rank };
  };
}

function weightRows(a: Float64Array, weights: Float64Array, n: number): void {
  for (let row = 0; row < weights.length; row++) {
    const weight = weights[row]!;
    for (let column = 0; column < n; column++) a[row * n + column]! *= weight;
  }
}

/** Multiplies each column by a power of two that brings its norm to between 1 and 2; returns the factors. */
function equilibrate(a: Float64Array, m: number, n: number): Float64Array {
  const scales = new Float64Array(n);
  for (let column = 0; column < n; column++) {
    const norm = columnNorm(a, m, n, column, 0);
    scales[column] = norm > 0 ? 2 ** -Math.floor(Math.log2(norm)) : 1;
  }
  for (let row = 0; row < m; row++) {
    for (let column = 0; column < n; column++) a[row * n + column]! *= scales[column]!;
  }
  return scales;
}

/** R⁻¹ of the leading rank × rank block, row-major rank × rank. */
function invertTriangle({ n, rank, factors }: PivotedQr): Float64Array {
  const inverse = new Float64Array(rank * rank);
  for (let column = 0; column < rank; column++) {
    for (let row = column; row >= 0; row--) {
      let sum = row === column ? 1 : 0;
      for (let k = row + 1; k <= column; k++) sum -= factors[row * n + k]! * inverse[k * rank + column]!;
      inverse[row * rank + column] = sum / factors[row * n + row]!;
    }
  }
  return inverse;
}

function unpivotedFactor(qr: PivotedQr, scales: Float64Array): Float64Array {
  const { n, rank, pivots } = qr;
  const inverse = invertTriangle(qr);
  const factor = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const unknown = pivots[k]!;
    for (let column = 0; column < n; column++) {
      const inside = k < rank ? (column < rank ? inverse[k * rank + column]! : 0) : Number.NaN;
      factor[unknown * n + column] = scales[unknown]! * inside;
    }
  }
  return factor;
}

function requireSystem(rows: Float64Array, n: number, m: number, weights: Float64Array | undefined): void {
  if (!(Number.isInteger(n) && n > 0) || rows.length !== m * n) {
    throw new RangeError(`${rows.length} entries do not make ${m} rows of ${n} columns`);
  }
  if (weights !== undefined && weights.length !== m) {
    throw new RangeError(`${weights.length} weights for ${m} rows; expected one a row`);
  }
  requireFinite(rows);
  if (weights !== undefined) requireFinite(weights);
}

function requireFinite(entries: Float64Array): void {
  for (let at = 0; at < entries.length; at++)
    if (!Number.isFinite(entries[at]))
      throw new RangeError('a least-squares system holds an entry that is not a finite number');
}
