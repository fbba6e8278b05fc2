/**
 * Householder QR with column pivoting, A P = Q R, of a row-major matrix in a typed array.
 * G. H. Golub, C. F. Van Loan, *Matrix Computations*, sec. 5.4; the running column norms as in LAPACK's DGEQP3
 * (Z. Drmač, Z. Bujanović, ACM Trans. Math. Softw. 35, 12 (2008)).
 */

export interface PivotedQr {
  readonly m: number;
  readonly n: number;
  /** Row-major m × n: R on and above the diagonal, the Householder vectors' tails below it. */
  readonly factors: Float64Array;
  readonly heads: Float64Array;
  readonly betas: Float64Array;
  /** Column j of R belongs to unknown pivots[j]. */
  readonly pivots: Int32Array;
  readonly rank: number;
}

/** A running norm that has lost half of its digits to cancellation is computed anew. */
const NORM_CANCELLATION = Math.sqrt(Number.EPSILON);

/**
 * Factorises `a` (row-major m × n) in place. The rank ends at the first pivot column whose remaining norm is not above
 * `tolerance` times that of the first.
 */
export function factorise(a: Float64Array, m: number, n: number, tolerance: number): PivotedQr {
  const steps = Math.min(m, n);
  const pivots = Int32Array.from({ length: n }, (_, column) => column);
  const heads = new Float64Array(steps);
  const betas = new Float64Array(steps);
  const product = new Float64Array(n);
  const norms = new Float64Array(n);
  for (let column = 0; column < n; column++) norms[column] = columnNorm(a, m, n, column, 0);
  const exactNorms = norms.slice();
  let rank = 0;
  let largest = 0;
  for (let k = 0; k < steps; k++) {
    let best = k;
    for (let column = k + 1; column < n; column++) if (norms[column]! > norms[best]!) best = column;
    if (best !== k) {
      swapColumns(a, m, n, k, best);
      for (const list of [pivots, norms, exactNorms]) swapEntries(list, k, best);
    }
    const norm = columnNorm(a, m, n, k, k);
    if (k === 0) largest = norm;
    if (!(norm > tolerance * largest)) break;
    reflect(a, m, n, k, norm, heads, betas, product);
    updateNorms(a, m, n, k, norms, exactNorms);
    rank = k + 1;
  }
  return { m, n, factors: a, heads, betas, pivots, rank };
}

/** Overwrites `vector` (m long) with Qᵀ·vector. */
export function applyQTransposed(qr: PivotedQr, vector: Float64Array): void {
  for (let k = 0; k < qr.rank; k++) applyReflection(qr, k, vector);
}

/** Overwrites `vector` (m long) with Q·vector. */
export function applyQ(qr: PivotedQr, vector: Float64Array): void {
  for (let k = qr.rank - 1; k >= 0; k--) applyReflection(qr, k, vector);
}

/** The x of least ‖vector − A·x‖, 0 beyond the rank; `vector` (m long) stays. */
export function solveFactorised(qr: PivotedQr, vector: Float64Array): Float64Array {
  const rotated = vector.slice();
  applyQTransposed(qr, rotated);
  return solveTriangle(qr, rotated);
}

/** Solves R z = vector for the leading rank × rank block; z at the unknowns' own places, 0 beyond the rank. */
export function solveTriangle({ n, rank, factors, pivots }: PivotedQr, vector: Float64Array): Float64Array {
  const z = new Float64Array(rank);
  for (let row = rank - 1; row >= 0; row--) {
    let sum = vector[row]!;
    for (let column = row + 1; column < rank; column++) sum -= factors[row * n + column]! * z[column]!;
    z[row] = sum / factors[row * n + row]!;
  }
  const unknowns = new Float64Array(n);
  for (let k = 0; k < rank; k++) unknowns[pivots[k]!] = z[k]!;
  return unknowns;
}

/** Norm of a column from row `from` down; scaled, so that its squares neither overflow nor vanish. */
export function columnNorm(a: Float64Array, m: number, n: number, column: number, from: number): number {
  let peak = 0;
  for (let at = from * n + column; at < m * n; at += n) peak = Math.max(peak, Math.abs(a[at]!));
  if (peak === 0) return 0;
  let sum = 0;
  for (let at = from * n + column; at < m * n; at += n) {
    const part = a[at]! / peak;
    sum += part * part;
  }
  return peak * Math.sqrt(sum);
}

/** One Householder step: sends column k below the diagonal to zero and reflects the columns right of it. */
function reflect(
  a: Float64Array,
  m: number,
  n: number,
  k: number,
  norm: number,
  heads: Float64Array,
  betas: Float64Array,
  product: Float64Array,
): void {
  const top = a[k * n + k]!;
  const alpha = top > 0 ? -norm : norm;
  // v = x − α e₁ scaled to v = [1 + |top|/norm, …]; the choice of α's sign avoids cancellation; β = 2/vᵀv.
  for (let row = k; row < m; row++) a[row * n + k]! /= norm;
  const head = (top - alpha) / norm;
  const beta = 1 / Math.abs(head);
  heads[k] = head;
  betas[k] = beta;
  for (let column = k + 1; column < n; column++) product[column] = head * a[k * n + column]!;
  for (let row = k + 1; row < m; row++) {
    const v = a[row * n + k]!;
    for (let column = k + 1; column < n; column++) product[column]! += v * a[row * n + column]!;
  }
  for (let column = k + 1; column < n; column++) {
    product[column]! *= beta;
    a[k * n + column]! -= head * product[column]!;
  }
  for (let row = k + 1; row < m; row++) {
    const v = a[row * n + k]!;
    for (let column = k + 1; column < n; column++) a[row * n + column]! -= v * product[column]!;
  }
  a[k * n + k] = alpha;
}

/** Takes row k out of the norms of the columns right of k. */
function updateNorms(
  a: Float64Array,
  m: number,
  n: number,
  k: number,
  norms: Float64Array,
  exactNorms: Float64Array,
): void {
  for (let column = k + 1; column < n; column++) {
    if (norms[column] === 0) continue;
    const ratio = a[k * n + column]! / norms[column]!;
    const left = Math.max(0, 1 - ratio * ratio);
    const lost = left * (norms[column]! / exactNorms[column]!) ** 2;
    if (lost > NORM_CANCELLATION) {
      norms[column]! *= Math.sqrt(left);
    } else {
      norms[column] = columnNorm(a, m, n, column, k + 1);
      exactNorms[column] = norms[column]!;
    }
  }
}

function swapColumns(a: Float64Array, m: number, n: number, one: number, other: number): void {
  for (let row = 0; row < m * n; row += n) swapEntries(a, row + one, row + other);
}

function swapEntries(list: Float64Array | Int32Array, one: number, other: number): void {
  const kept = list[one]!;
  list[one] = list[other]!;
  list[other] = kept;
}

function applyReflection({ m, n, factors, heads, betas }: PivotedQr, k: number, vector: Float64Array): void {
  let sum = heads[k]! * vector[k]!;
  for (let row = k + 1; row < m; row++) sum += factors[row * n + k]! * vector[row]!;
  sum *= betas[k]!;
  vector[k]! -= sum * heads[k]!;
  for (let row = k + 1; row < m; row++) vector[row]! -= sum * factors[row * n + k]!;
}
