/**
 * The triangular factor of a sum of outer products, RᵀR = Σ x xᵀ, grown by one row x after the other with Givens rotations. The sum
 * itself is never formed, so that a singular one, or one nearly so, has a factor like any other: no pivot can cancel below 0.
 * G. H. Golub, C. F. Van Loan, *Matrix Computations*, 4th ed., sec. 6.5.3 (appending a row).
 */

/** Adds `row` (n long, used up) to R, n × n row-major and upper triangular; its diagonal stays 0 or more. */
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
