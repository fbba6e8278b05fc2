/** The factor of a sum of outer products against the sum itself, and where that sum has no factor by Cholesky. */
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { choleskyFactor, foldRow } from '../../src/algebra/triangular-factors.ts';

/** R from rows, and Σ x xᵀ formed entry by entry. */
function folded(rows: readonly (readonly number[])[]): { r: Float64Array; sum: Float64Array; n: number } {
  const n = rows[0]!.length;
  const [r, sum] = [new Float64Array(n * n), new Float64Array(n * n)];
  for (const row of rows) {
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum[i * n + j]! += row[i]! * row[j]!;
    foldRow(r, n, Float64Array.from(row));
  }
  return { r, sum, n };
}

const gram = (r: Float64Array, n: number): number[] =>
  Array.from({ length: n * n }, (_, at) => {
    const [i, j] = [Math.floor(at / n), at % n];
    let sum = 0;
    for (let k = 0; k < n; k++) sum += r[k * n + i]! * r[k * n + j]!;
    return sum;
  });

describe('a factor grown row by row', () => {
  test('is that of Cholesky, transposed, where there is one', () => {
    const random = randomFrom('fold');
    const { r, sum, n } = folded(
      Array.from({ length: 40 }, () => Array.from({ length: 5 }, () => random.normal())),
    );
    const l = choleskyFactor(sum, n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) expect(r[i * n + j]).toBeCloseTo(l[j * n + i]!, 10);
  });

  test.each([
    ['fewer rows than columns', [[1, 2, 3, 4]]],
    [
      'a column of nothing',
      [
        [1, 0, 2],
        [3, 0, 4],
        [5, 0, 6],
      ],
    ],
    [
      'rows along one another',
      [
        [1, 2, 3],
        [2, 4, 6],
        [-1, -2, -3],
      ],
    ],
  ])('gives the sum back: %s', (_, rows) => {
    const { r, sum, n } = folded(rows);
    gram(r, n).forEach((entry, at) => {
      expect(entry).toBeCloseTo(sum[at]!, 10);
    });
    for (let k = 0; k < n; k++) expect(r[k * n + k]).toBeGreaterThanOrEqual(0);
  });

  test('of unknowns of very different size, known together far better than alone', () => {
    // The six degrees of a part that three patches hold: mm beside radians, all but dependent.
    const random = randomFrom('stiff');
    const rows = Array.from({ length: 30 }, () => {
      const [a, b] = [random.normal(), random.normal()];
      return [1e3 * a, 1e-6 * a + 1e-13 * b, 1e3 * a + 1e-4 * b, b, 1e-9 * b, a];
    });
    const { r, sum, n } = folded(rows);
    const size = (at: number): number =>
      Math.sqrt(sum[Math.floor(at / n) * (n + 1)]! * sum[(at % n) * (n + 1)]!);
    gram(r, n).forEach((entry, at) => {
      expect(Math.abs(entry - sum[at]!)).toBeLessThan(1e-13 * size(at) + 1e-300);
    });
  });
});
