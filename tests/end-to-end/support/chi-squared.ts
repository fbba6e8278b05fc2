/**
 * χ² of readings by another road: normal equations solved by singular values, which leave what nothing sees at 0. And its quantiles as
 * printed in NIST/SEMATECH, e-Handbook of Statistical Methods, table 1.3.6.7.4 (critical values of the upper tail), from memory.
 */
import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix';

/** χ² exceeded with the probability 0.05 and 0.001, by degrees of freedom. */
export const QUANTILES: Readonly<Record<number, { readonly p05: number; readonly p001: number }>> = {
  1: { p05: 3.841, p001: 10.828 },
  2: { p05: 5.991, p001: 13.816 },
  3: { p05: 7.815, p001: 16.266 },
  4: { p05: 9.488, p001: 18.467 },
  6: { p05: 12.592, p001: 22.458 },
  9: { p05: 16.919, p001: 27.877 },
  12: { p05: 21.026, p001: 32.91 },
};

/** Rows over their standard uncertainties, values likewise: the least sum of squares that any unknowns leave, and the rank. */
export function leastSquares(
  rows: readonly (readonly number[])[],
  values: readonly number[],
): { readonly chiSquared: number; readonly rank: number } {
  const matrix = new Matrix(rows.map((row) => [...row]));
  const right = Matrix.columnVector([...values]);
  const left = Matrix.sub(right, matrix.mmul(solve(matrix, right, true)));
  const { diagonal } = new SingularValueDecomposition(matrix, { autoTranspose: true });
  const rank = diagonal.filter((value) => value > 1e-9 * diagonal[0]!).length;
  return { chiSquared: left.to1DArray().reduce((sum, value) => sum + value * value, 0), rank };
}
