/**
 * χ² of readings by another road: what is left of them when all that any unknowns could explain is taken off, by Gram and Schmidt. And its
 * quantiles as printed in NIST/SEMATECH, e-Handbook of Statistical Methods, table 1.3.6.7.4 (critical values of the upper tail), from memory.
 */
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

/** A column of which less than this is left over the others adds nothing to them. */
const DEPENDENT = 1e-8;

/** Rows over their standard uncertainties, values likewise: the least sum of squares that any unknowns leave, and the rank. */
export function leastSquares(
  rows: readonly (readonly number[])[],
  values: readonly number[],
): { readonly chiSquared: number; readonly rank: number } {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, x, k) => sum + x * b[k]!, 0);
  const basis: number[][] = [];
  const without = (column: readonly number[]): readonly number[] =>
    basis.reduce((left, q) => {
      const part = dot(q, left);
      return left.map((x, k) => x - part * q[k]!);
    }, column);
  for (let column = 0; column < rows[0]!.length; column++) {
    const whole = rows.map((row) => row[column]!);
    // Twice: the second time takes off what rounding left the first time.
    const left = without(without(whole));
    const length = Math.sqrt(dot(left, left));
    if (length > DEPENDENT * Math.sqrt(dot(whole, whole))) basis.push(left.map((x) => x / length));
  }
  const residual = without(without(values));
  return { chiSquared: dot(residual, residual), rank: basis.length };
}
