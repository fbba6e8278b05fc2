/** Covariances the plain way: (Σ aᵀa/u²)⁻¹ by elimination, in the unknowns' own units. Only for problems that observe everything. */
export interface PlainReading {
  readonly row: readonly number[];
  readonly u: number;
}

/** Throws where something is not observed. */
export function plainCovariance(readings: readonly PlainReading[]): number[][] {
  const n = readings[0]!.row.length;
  // Unknowns brought to like size first: the pivots then tell what is observed.
  const size = Array.from({ length: n }, (_, k) => Math.hypot(...readings.map(({ row, u }) => row[k]! / u)));
  const matrix = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (__, j) =>
      readings.reduce((sum, { row, u }) => sum + (row[i]! * row[j]!) / (u * u * size[i]! * size[j]!), 0),
    ),
  );
  return inverse(matrix).map((row, i) => row.map((entry, j) => entry / (size[i]! * size[j]!)));
}

/** Gauss and Jordan's elimination with the largest pivot of each column. */
function inverse(given: readonly (readonly number[])[]): number[][] {
  const n = given.length;
  const rows = given.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let column = 0; column < n; column++) {
    const pivot = rows
      .map((row, k) => [k, Math.abs(row[column]!)] as const)
      .slice(column)
      .reduce((best, one) => (one[1] > best[1] ? one : best))[0];
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    const head = rows[column]!;
    const by = head[column]!;
    if (Math.abs(by) < 1e-12) throw new Error('not all unknowns are observed');
    for (let k = 0; k < 2 * n; k++) head[k]! /= by;
    rows.forEach((row, i) => {
      if (i === column) return;
      const factor = row[column]!;
      for (let k = 0; k < 2 * n; k++) row[k]! -= factor * head[k]!;
    });
  }
  return rows.map((row) => row.slice(n));
}
