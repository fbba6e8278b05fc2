/**
 * Cholesky factor of a symmetric positive semidefinite matrix, A = L Lᵀ: what turns independent deviates into correlated
 * ones. A row that adds nothing to the rows before it (perfect correlation) gets a pivot of 0.
 * G. H. Golub, C. F. Van Loan, *Matrix Computations*, sec. 4.2.
 */

/** A pivot that cancels to below this fraction of its own variance is rounding, and counts as 0. */
const SEMIDEFINITE = 1e-12;

/**
 * L, n × n row-major, lower. Throws a RangeError where the matrix is not positive semidefinite, naming the row: a set of
 * correlations that no quantities can have.
 */
export function choleskyFactor(matrix: Float64Array, n: number): Float64Array {
  if (matrix.length !== n * n)
    throw new RangeError(`${matrix.length} entries do not make a ${n} × ${n} matrix`);
  const l = new Float64Array(n * n);
  for (let row = 0; row < n; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * n + column]!;
      for (let k = 0; k < column; k++) sum -= l[row * n + k]! * l[column * n + k]!;
      const own = matrix[row * n + row]!;
      if (column < row) {
        const pivot = l[column * n + column]!;
        const reach = Math.sqrt(SEMIDEFINITE) * Math.sqrt(Math.abs(own * matrix[column * n + column]!));
        if (pivot === 0 && Math.abs(sum) > reach) throw notSemidefinite(row);
        l[row * n + column] = pivot === 0 ? 0 : sum / pivot;
      } else {
        if (!(sum >= -SEMIDEFINITE * Math.abs(own)) || !(own >= 0)) throw notSemidefinite(row);
        l[row * n + row] = sum <= SEMIDEFINITE * own ? 0 : Math.sqrt(sum);
      }
    }
  }
  return l;
}

const notSemidefinite = (row: number): RangeError =>
  new RangeError(
    `a covariance matrix is not positive semidefinite at row ${row}: no quantities have such correlations`,
  );

/**
 * The triangular factor of a sum of outer products, RᵀR = Σ x xᵀ, grown by one row x after the other with Givens rotations. The sum
 * itself is never formed, so that a singular one, or one nearly so, has a factor like any other: no pivot can cancel below 0.
 * Adds `row` (n long, used up) to R, n × n row-major and upper triangular; its diagonal stays 0 or more.
 * G. H. Golub, C. F. Van Loan, *Matrix Computations*, 4th ed., sec. 6.5.3 (appending a row).
 */
export function foldRow(r: Float64Array, n: number, row: Float64Array): void {
  for (let k = 0; k < n; k++) {
    const [pivot, x] = [r[k * n + k]!, row[k]!];
    const length = Math.sqrt(pivot * pivot + x * x);
    if (x === 0 || length === 0) continue;
    const [c, s] = [pivot / length, x / length];
    for (let column = k; column < n; column++) {
      const [above, below] = [r[k * n + column]!, row[column]!];
      r[k * n + column] = c * above + s * below;
      row[column] = c * below - s * above;
    }
  }
}
