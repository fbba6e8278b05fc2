/**
 * Iterative refinement of a least-squares solution and its residuals together, with products and sums carried in doubled
 * precision: min ‖b − A x‖ as the augmented system r + A x = b, Aᵀ r = 0.
 * Å. Björck, "Iterative refinement of linear least squares solutions", BIT 7, 257 (1967) and 8, 8 (1968);
 * error-free products and sums by T. J. Dekker, Numer. Math. 18, 224 (1971).
 */
import { applyQ, applyQTransposed, type PivotedQr, solveTriangle } from './pivoted-qr.ts';

/** Improves `x` (n long) in place. `a` is the m × n row-major matrix that `qr` was made from; full rank only. */
export function refine(
  qr: PivotedQr,
  a: Float64Array,
  b: Float64Array,
  x: Float64Array,
  steps: number,
): void {
  const { m, n } = qr;
  const r = residualsOf(a, n, b, x);
  const sum: DoubledSum = { high: 0, low: 0 };
  for (let step = 0; step < steps; step++) {
    // f = b − r − A x and g = −Aᵀ r, each rounded once.
    const f = new Float64Array(m);
    for (let row = 0; row < m; row++) {
      start(sum, b[row]!);
      addProduct(sum, -1, r[row]!);
      for (let column = 0; column < n; column++) addProduct(sum, -a[row * n + column]!, x[column]!);
      f[row] = sum.high + sum.low;
    }
    const g = new Float64Array(n);
    for (let column = 0; column < n; column++) {
      start(sum, 0);
      for (let row = 0; row < m; row++) addProduct(sum, -a[row * n + column]!, r[row]!);
      g[column] = sum.high + sum.low;
    }
    // With Qᵀ f = [d₁; d₂] and Rᵀ h = g: δx = R⁻¹(d₁ − h), δr = Q [h; d₂].
    const h = solveTransposedTriangle(qr, g);
    applyQTransposed(qr, f);
    const upper = f.slice(0, n);
    for (let k = 0; k < n; k++) upper[k]! -= h[k]!;
    const correction = solveTriangle(qr, upper);
    for (let k = 0; k < n; k++) f[k] = h[k]!;
    applyQ(qr, f);
    for (let column = 0; column < n; column++) x[column]! += correction[column]!;
    for (let row = 0; row < m; row++) r[row]! += f[row]!;
  }
}

/** b − A x of every row. */
export function residualsOf(a: Float64Array, n: number, b: Float64Array, x: Float64Array): Float64Array {
  return b.map((value, row) => {
    let sum = value;
    for (let column = 0; column < n; column++) sum -= a[row * n + column]! * x[column]!;
    return sum;
  });
}

/** Solves Rᵀ h = g, g at the unknowns' own places, h in pivot order. */
function solveTransposedTriangle({ n, factors, pivots }: PivotedQr, g: Float64Array): Float64Array {
  const h = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    let sum = g[pivots[k]!]!;
    for (let row = 0; row < k; row++) sum -= factors[row * n + k]! * h[row]!;
    h[k] = sum / factors[k * n + k]!;
  }
  return h;
}

/** A sum as an unevaluated pair high + low, good to about twice the digits of a double. */
interface DoubledSum {
  high: number;
  low: number;
}

function start(sum: DoubledSum, value: number): void {
  sum.high = value;
  sum.low = 0;
}

/** 2²⁷ + 1: splits a double into two halves of 26 bits whose products are exact. */
const SPLITTER = 134217729;

function addProduct(sum: DoubledSum, a: number, b: number): void {
  const product = a * b;
  const bigA = SPLITTER * a;
  const highA = bigA - (bigA - a);
  const lowA = a - highA;
  const bigB = SPLITTER * b;
  const highB = bigB - (bigB - b);
  const lowB = b - highB;
  const productError = lowA * lowB - (product - highA * highB - lowA * highB - highA * lowB);

  const total = sum.high + product;
  const part = total - sum.high;
  const totalError = sum.high - (total - part) + (product - part);
  sum.high = total;
  sum.low += productError + totalError;
}
