import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { singularValues } from '../../src/algebra/singular-values.ts';
import { symmetricEigen } from '../../src/algebra/symmetric-eigen.ts';
import { choleskyFactor } from '../../src/algebra/triangular-factors.ts';

const random = randomFrom('decompositions');
const matrixOf = (m: number, n: number): Float64Array => new Float64Array(m * n).map(() => random.normal());

/** AᵀA of a row-major m × n matrix. */
function gram(a: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n * n);
  for (let row = 0; row < a.length; row += n) {
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) product[i * n + j]! += a[row + i]! * a[row + j]!;
  }
  return product;
}

const times = (a: Float64Array, n: number, x: Float64Array): Float64Array =>
  Float64Array.from({ length: a.length / n }, (_, row) =>
    x.reduce((sum, v, k) => sum + a[row * n + k]! * v, 0),
  );
const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, v, k) => sum + v * b[k]!, 0);

function expectOrthonormal(vectors: readonly Float64Array[]): void {
  vectors.forEach((one, i) => {
    vectors.forEach((other, j) => {
      expect(dot(one, other)).toBeCloseTo(i === j ? 1 : 0, 12);
    });
  });
}

describe('eigenvalues of a symmetric matrix', () => {
  it.each([1, 2, 3, 6, 12])('of size %d satisfy A v = λ v with orthonormal v', (n) => {
    const a = gram(matrixOf(n + 3, n), n);
    const { values, vectors } = symmetricEigen(a, n);
    expectOrthonormal(vectors);
    vectors.forEach((vector, k) => {
      const image = times(a, n, vector);
      image.forEach((entry, row) => {
        expect(entry).toBeCloseTo(values[k]! * vector[row]!, 11);
      });
      if (k > 0) expect(values[k]).toBeLessThanOrEqual(values[k - 1]!);
    });
  });

  it('of the second-difference matrix are 2 − 2 cos(kπ/(n + 1))', () => {
    const n = 6;
    const a = new Float64Array(n * n);
    for (let k = 0; k < n; k++) {
      a[k * n + k] = 2;
      if (k + 1 < n) a[k * n + k + 1] = -1;
    }
    const { values } = symmetricEigen(a, n);
    for (let k = 1; k <= n; k++) {
      expect(values[n - k]).toBeCloseTo(2 - 2 * Math.cos((k * Math.PI) / (n + 1)), 14);
    }
  });

  it('come with zeros where the matrix has none of a direction', () => {
    expect([...symmetricEigen(new Float64Array(9), 3).values]).toEqual([0, 0, 0]);
    const { values, vectors } = symmetricEigen(Float64Array.of(1, 1, 1, 1), 2);
    expect(values[1]).toBeCloseTo(0, 15);
    expect(vectors[0]![0]).toBeCloseTo(Math.SQRT1_2, 15);
  });
});

describe('singular values', () => {
  it.each([
    [12, 6],
    [6, 6],
    [3, 6],
    [1, 6],
  ])('of %d rows of %d are the roots of the eigenvalues of AᵀA, with the same directions', (m, n) => {
    const a = matrixOf(m, n);
    const { values, directions } = singularValues(a, n);
    expectOrthonormal(directions);
    directions.forEach((direction, k) => {
      const image = times(a, n, direction);
      expect(Math.sqrt(dot(image, image))).toBeCloseTo(values[k]!, 12);
      if (k >= m) expect(values[k]).toBeLessThan(1e-14);
    });
    const eigen = symmetricEigen(gram(a, n), n).values;
    for (let k = 0; k < Math.min(m, n); k++) expect(values[k]! ** 2).toBeCloseTo(eigen[k]!, 11);
  });

  it('of no rows are zeros', () => {
    const { values, directions } = singularValues(new Float64Array(0), 3);
    expect([...values]).toEqual([0, 0, 0]);
    expectOrthonormal(directions);
  });

  it('refuses rows that do not fit', () => {
    expect(() => singularValues(new Float64Array(7), 6)).toThrow(/7 entries/);
  });
});

describe('Cholesky factor', () => {
  it.each([1, 3, 8])('of size %d multiplies back', (n) => {
    const a = gram(matrixOf(n + 2, n), n);
    const l = choleskyFactor(a, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        expect(dot(l.subarray(i * n, i * n + n), l.subarray(j * n, j * n + n))).toBeCloseTo(
          a[i * n + j]!,
          12,
        );
        if (j > i) expect(l[i * n + j]).toBe(0);
      }
    }
  });

  it('takes perfect correlations and quantities without spread', () => {
    expect([...choleskyFactor(Float64Array.of(4, 6, 6, 9), 2)]).toEqual([2, 0, 3, 0]);
    expect([...choleskyFactor(Float64Array.of(0, 0, 0, 1), 2)]).toEqual([0, 0, 0, 1]);
  });

  it.each([[[1, 2, 2, 1]], [[-1, 0, 0, 1]], [[0, 1, 1, 1]]])(
    'refuses %j, which nothing can have',
    (entries) => {
      expect(() => choleskyFactor(Float64Array.from(entries), 2)).toThrow(/semidefinite at row/);
    },
  );
});
