/**
 * Singular values and right singular vectors of a small row-major matrix: which combinations of unknowns its rows see, and
 * how well. The decomposition itself is ml-matrix's (Golub–Kahan, after EISPACK and JAMA).
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';

interface SingularValues {
  /** Falling, one an unknown; 0 to rounding for combinations that no row sees. */
  readonly values: Float64Array;
  /** One unit vector an unknown-space direction, in the order of `values`. */
  readonly directions: readonly Float64Array[];
}

/** Of `rows`, row-major with `columns` columns; fewer rows than columns are allowed, none at all too. */
export function singularValues(rows: Float64Array, columns: number): SingularValues {
  if (!(Number.isInteger(columns) && columns > 0) || rows.length % columns !== 0) {
    throw new RangeError(`${rows.length} entries do not make rows of ${columns} columns`);
  }
  if (!rows.every(Number.isFinite))
    throw new RangeError('a matrix holds an entry that is not a finite number');
  // Rows of zeros change neither values nor directions, and give every unknown its direction.
  const matrix = Matrix.zeros(Math.max(rows.length / columns, columns), columns);
  rows.forEach((entry, at) => {
    matrix.set(Math.floor(at / columns), at % columns, entry);
  });
  const decomposition = new SingularValueDecomposition(matrix, { computeLeftSingularVectors: false });
  const v = decomposition.rightSingularVectors;
  const order = Array.from({ length: columns }, (_, k) => k).sort(
    (a, b) => decomposition.diagonal[b]! - decomposition.diagonal[a]! || a - b,
  );
  return {
    values: Float64Array.from(order, (k) => decomposition.diagonal[k]!),
    directions: order.map((k) => Float64Array.from({ length: columns }, (_, row) => v.get(row, k))),
  };
}
