/**
 * Zernike circle polynomials in the standard order and normalisation of ISO 24157 and ANSI Z80.28:
 *   Z_n^m = N R_n^|m|(ρ) cos mθ (m ≥ 0) or N R_n^|m|(ρ) sin |m|θ (m < 0),  N = √(2(n + 1)/(1 + δ_m0)),
 *   j = (n(n + 2) + m)/2,
 * orthonormal over the unit disc: (1/π)∫ Z_i Z_j dA = δ_ij. θ runs from +x toward +y; x = ρ cos θ, y = ρ sin θ.
 *
 * Evaluated in Cartesian form: ρ^m cos mθ + i ρ^m sin mθ = (x + iy)^m, and R_n^m/ρ^m is the Jacobi polynomial
 * P_k^(0,m)(2ρ² − 1), k = (n − m)/2, by its three-term recurrence, stable to high orders (no sums of alternating powers).
 */

import { discQuadrature } from '../algebra/disc-quadrature.ts';
import type { Vec2 } from '../geometry/vector.ts';

/** Radial order n and azimuthal order m; n − |m| is even and not negative, m < 0 for the sines. */
type ZernikeOrders = readonly [n: number, m: number];

/** Number of terms up to and with radial order n. */
export const zernikeCount = (maxOrder: number): number => ((maxOrder + 1) * (maxOrder + 2)) / 2;

/** ISO 24157 index j = 0, 1, 2 … of the orders. */
export function zernikeIndexFromOrders([n, m]: ZernikeOrders): number {
  requireOrders(n, m);
  return (n * (n + 2) + m) / 2;
}

/** Orders of ISO 24157 index j. */
export function zernikeOrdersFromIndex(index: number): ZernikeOrders {
  if (!Number.isSafeInteger(index) || index < 0) {
    throw new RangeError(`no Zernike term has the index ${index}; indices are whole numbers from 0`);
  }
  let n = Math.ceil((-3 + Math.sqrt(9 + 8 * index)) / 2);
  while (zernikeCount(n) <= index) n++;
  while (zernikeCount(n - 1) > index) n--;
  return [n, 2 * index - n * (n + 2)];
}

/** N of the orders. */
export const zernikeNorm = ([n, m]: ZernikeOrders): number => Math.sqrt(m === 0 ? n + 1 : 2 * (n + 1));

/**
 * All polynomials up to radial order `maxOrder` at one point of the unit disc's plane, in ISO 24157 order.
 * `terms`, zernikeCount(maxOrder) long, is overwritten and returned.
 */
export function zernikePolynomials(
  x: number,
  y: number,
  maxOrder: number,
  terms: Float64Array = new Float64Array(zernikeCount(maxOrder)),
): Float64Array {
  const u = 2 * (x * x + y * y) - 1;
  let cosine = 1;
  let sine = 0;
  for (let m = 0; m <= maxOrder; m++) {
    let before = 0;
    let jacobi = 1;
    for (let n = m, k = 0; n <= maxOrder; n += 2, k++) {
      if (k > 0) {
        const next = jacobiStep(k, m, u, jacobi, before);
        before = jacobi;
        jacobi = next;
      }
      const norm = zernikeNorm([n, m]);
      const middle = (n * (n + 2)) / 2;
      terms[middle + m / 2] = norm * jacobi * cosine;
      if (m > 0) terms[middle - m / 2] = norm * jacobi * sine;
    }
    const turned = cosine * x - sine * y;
    sine = cosine * y + sine * x;
    cosine = turned;
  }
  return terms;
}

/** Σ coefficients[j] Z_j at each point; `xs`, `ys` in the same unit as `centre` and `radius`. */
export function zernikeSum(
  coefficients: Float64Array,
  centre: Vec2,
  radius: number,
  xs: Float64Array,
  ys: Float64Array,
): Float64Array {
  if (coefficients.length === 0) return new Float64Array(xs.length);
  const [maxOrder] = zernikeOrdersFromIndex(coefficients.length - 1);
  const terms = new Float64Array(zernikeCount(maxOrder));
  return xs.map((x, at) => {
    zernikePolynomials((x - centre[0]) / radius, (ys[at]! - centre[1]) / radius, maxOrder, terms);
    let sum = 0;
    for (let j = 0; j < coefficients.length; j++) sum += coefficients[j]! * terms[j]!;
    return sum;
  });
}

/**
 * Coefficients, in ISO 24157 order up to radial order `maxOrder`, of a smooth function over the disc about `centre`, by
 * quadrature of (1/π)∫ f Z_j dA; in the unit of the function (waves for a phase). `evaluate` gets the nodes, in the unit of
 * `centre` and `radius` (mm). Exact for polynomials up to degree `maxOrder` + 2·`margin`.
 */
export function zernikeCoefficients(
  evaluate: (xs: Float64Array, ys: Float64Array) => Float64Array,
  centre: Vec2,
  radius: number,
  maxOrder: number,
  margin = 8,
): Float64Array {
  if (!(radius > 0)) throw new RangeError(`a disc's radius is ${radius}; expected a length above 0`);
  const { xs, ys, weights } = discQuadrature(2 * (maxOrder + margin));
  const values = evaluate(
    xs.map((x) => centre[0] + radius * x),
    ys.map((y) => centre[1] + radius * y),
  );
  const count = zernikeCount(maxOrder);
  const coefficients = new Float64Array(count);
  const terms = new Float64Array(count);
  for (let at = 0; at < xs.length; at++) {
    zernikePolynomials(xs[at]!, ys[at]!, maxOrder, terms);
    const weighted = weights[at]! * values[at]!;
    for (let j = 0; j < count; j++) coefficients[j]! += weighted * terms[j]!;
  }
  return coefficients;
}

/** P_k^(0,m)(u) from the two before it; M. Abramowitz, I. A. Stegun, 22.7.1. */
function jacobiStep(k: number, m: number, u: number, last: number, before: number): number {
  if (k === 1) return 1 + ((m + 2) * (u - 1)) / 2;
  const c = 2 * k + m;
  const first = (c - 1) * (c * (c - 2) * u - m * m) * last;
  const second = 2 * (k - 1) * (k + m - 1) * c * before;
  return (first - second) / (2 * k * (k + m) * (c - 2));
}

function requireOrders(n: number, m: number): void {
  if (!Number.isInteger(n) || !Number.isInteger(m) || n < 0 || Math.abs(m) > n || (n - m) % 2 !== 0) {
    throw new RangeError(
      `no Zernike term has the orders n = ${n}, m = ${m}; n − |m| must be even and not negative`,
    );
  }
}
