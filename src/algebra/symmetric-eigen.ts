/**
 * Eigenvalues and eigenvectors of a small symmetric matrix by cyclic Jacobi rotations: slow for large matrices, but it
 * finds small eigenvalues of a scaled matrix to full relative precision.
 * G. H. Golub, C. F. Van Loan, *Matrix Computations*, sec. 8.5.
 */

interface SymmetricEigen {
  /** Falling. */
  readonly values: Float64Array;
  /** Unit eigenvectors in the order of `values`; each one's largest component is positive. */
  readonly vectors: readonly Float64Array[];
}

/** Sweeps over all pairs; convergence is quadratic and takes fewer than ten. */
const MOST_SWEEPS = 50;

/** Of `matrix`, n × n row-major, of which the upper triangle is read. Throws a RangeError for sizes or entries that do not do. */
export function symmetricEigen(matrix: Float64Array, n: number): SymmetricEigen {
  if (matrix.length !== n * n)
    throw new RangeError(`${matrix.length} entries do not make a ${n} × ${n} matrix`);
  if (!matrix.every(Number.isFinite))
    throw new RangeError('a matrix holds an entry that is not a finite number');
  const a = matrix.slice();
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) a[i * n + j] = a[j * n + i]!;
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;

  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let turned = false;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) turned = rotatePair(a, v, n, p, q) || turned;
    }
    if (!turned) break;
  }

  const order = Array.from({ length: n }, (_, k) => k).sort((i, j) => a[j * n + j]! - a[i * n + i]! || i - j);
  return {
    values: Float64Array.from(order, (k) => a[k * n + k]!),
    vectors: order.map((k) => orient(Float64Array.from({ length: n }, (_, row) => v[row * n + k]!))),
  };
}

/** Sends a_pq to zero; false where it is already too small to change the diagonal. */
function rotatePair(a: Float64Array, v: Float64Array, n: number, p: number, q: number): boolean {
  const off = a[p * n + q]!;
  const app = a[p * n + p]!;
  const aqq = a[q * n + q]!;
  if (Math.abs(off) <= Number.EPSILON * Math.sqrt(Math.abs(app)) * Math.sqrt(Math.abs(aqq)) || off === 0) {
    a[p * n + q] = 0;
    a[q * n + p] = 0;
    return false;
  }
  const tau = (aqq - app) / (2 * off);
  const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const akp = a[k * n + p]!;
    const akq = a[k * n + q]!;
    a[k * n + p] = c * akp - s * akq;
    a[k * n + q] = s * akp + c * akq;
    const vkp = v[k * n + p]!;
    const vkq = v[k * n + q]!;
    v[k * n + p] = c * vkp - s * vkq;
    v[k * n + q] = s * vkp + c * vkq;
  }
  for (let k = 0; k < n; k++) {
    const apk = a[p * n + k]!;
    const aqk = a[q * n + k]!;
    a[p * n + k] = c * apk - s * aqk;
    a[q * n + k] = s * apk + c * aqk;
  }
  a[p * n + q] = 0;
  a[q * n + p] = 0;
  return true;
}

function orient(vector: Float64Array): Float64Array {
  let largest = 0;
  for (const entry of vector) if (Math.abs(entry) > Math.abs(largest) + 1e-9) largest = entry;
  return largest < 0 ? vector.map((entry) => -entry) : vector;
}
