/** Small systems of equations by Gauss's elimination, fits and weighted estimates from them. Shares no code with src/algebra. */
export type Rows = readonly (readonly number[])[];

/** The solution X of A X = B, by columns of B; the larger pivot first. */
export function solved(a: Rows, b: Rows): number[][] {
  const size = a.length;
  const work = a.map((row, i) => [...row, ...b[i]!]);
  for (let k = 0; k < size; k++) {
    const best = work.reduce(
      (at, row, i) => (i > k && Math.abs(row[k]!) > Math.abs(work[at]![k]!) ? i : at),
      k,
    );
    [work[k], work[best]] = [work[best]!, work[k]!];
    for (let i = 0; i < size; i++) {
      if (i === k) continue;
      const factor = work[i]![k]! / work[k]![k]!;
      if (factor !== 0) work[i] = work[i]!.map((entry, j) => entry - factor * work[k]![j]!);
    }
  }
  return work.map((row, k) => row.slice(size).map((entry) => entry / row[k]!));
}

export const transposed = (a: Rows): number[][] => a[0]!.map((_, j) => a.map((row) => row[j]!));
export const product = (a: Rows, b: Rows): number[][] => {
  const columns = transposed(b);
  return a.map((row) => columns.map((column) => row.reduce((sum, entry, k) => sum + entry * column[k]!, 0)));
};
export const inverse = (a: Rows): number[][] =>
  solved(
    a,
    a.map((_, i) => a.map((__, j) => (i === j ? 1 : 0))),
  );

/** The coefficients of the least-squares fit of `values` by the columns of `rows`; each column at its own size. */
export function fitted(rows: Rows, values: readonly number[]): number[] {
  const sizes = rows[0]!.map((_, j) => Math.max(...rows.map((row) => Math.abs(row[j]!))));
  const scaled = rows.map((row) => row.map((entry, j) => entry / sizes[j]!));
  const columns = transposed(scaled);
  const found = solved(
    product(columns, scaled),
    product(
      columns,
      values.map((value) => [value]),
    ),
  );
  return found.map(([coefficient], j) => coefficient! / sizes[j]!);
}

/** (AᵀV⁻¹A)⁻¹ and the gains (AᵀV⁻¹A)⁻¹AᵀV⁻¹ of the best linear estimate (A. C. Aitken, 1935, from memory). */
export function bestEstimate(rows: Rows, covariance: Rows): { covariance: number[][]; gains: number[][] } {
  const weighted = product(transposed(rows), inverse(covariance));
  const found = inverse(product(weighted, rows));
  return { covariance: found, gains: product(found, weighted) };
}
