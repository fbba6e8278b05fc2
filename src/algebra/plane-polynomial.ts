/** Polynomials in two variables over a rectangle, Σ c · u^i · v^j with i + j ≤ degree, fitted by QR and evaluated row by row. */
import { factorise, solveFactorised } from './pivoted-qr.ts';

export interface PlanePolynomial {
  /** The values at (xs[k], y) into `out`. */
  alongRow(xs: Float64Array, y: number, out: Float64Array): Float64Array;
  at(x: number, y: number): number;
}

/** `coefficients` in the order of `exponents(degree)`. */
function planePolynomial(degree: number, coefficients: Float64Array, frame: Frame): PlanePolynomial {
  const scale = 1 / frame.halfWidth;
  const start = -frame.x * scale;
  const inU = new Float64Array(degree + 1);
  const alongRow = (xs: Float64Array, y: number, out: Float64Array): Float64Array => {
    const v = (y - frame.y) / frame.halfHeight;
    // Horner's rule in u, its coefficients by Horner's rule in v; the last power of u first.
    for (let i = degree, at = coefficients.length; i >= 0; i--) {
      const powers = degree - i + 1;
      at -= powers;
      let sum = 0;
      for (let j = powers - 1; j >= 0; j--) sum = sum * v + coefficients[at + j]!;
      inU[i] = sum;
    }
    for (let k = 0; k < xs.length; k++) {
      const u = start + xs[k]! * scale;
      let sum = inU[degree]!;
      for (let i = degree - 1; i >= 0; i--) sum = sum * u + inU[i]!;
      out[k] = sum;
    }
    return out;
  };
  return { alongRow, at: (x, y) => alongRow(Float64Array.of(x), y, new Float64Array(1))[0]! };
}

interface Frame {
  readonly x: number;
  readonly y: number;
  readonly halfWidth: number;
  readonly halfHeight: number;
}

/**
 * One polynomial for each of `values` at the points, with the largest error of the first one there. Undefined where there are fewer
 * points than coefficients, or all lie on a line.
 */
export function fitPlane(
  xs: Float64Array,
  ys: Float64Array,
  values: readonly Float64Array[],
  degree: number,
): { readonly polynomials: readonly PlanePolynomial[]; readonly worst: number } | undefined {
  const powers = exponents(degree);
  const [points, terms] = [xs.length, powers.length];
  if (points < terms) return undefined;
  const frame = frameOf(xs, ys);
  if (!(frame.halfWidth > 0 && frame.halfHeight > 0)) return undefined;
  const rows = new Float64Array(points * terms);
  const [us, vs] = [new Float64Array(degree + 1).fill(1), new Float64Array(degree + 1).fill(1)];
  for (let k = 0; k < points; k++) {
    const u = (xs[k]! - frame.x) / frame.halfWidth;
    const v = (ys[k]! - frame.y) / frame.halfHeight;
    for (let n = 1; n <= degree; n++) {
      us[n] = us[n - 1]! * u;
      vs[n] = vs[n - 1]! * v;
    }
    for (let n = 0; n < terms; n++) rows[k * terms + n] = us[powers[n]![0]]! * vs[powers[n]![1]]!;
  }
  const qr = factorise(rows.slice(), points, terms, DEPENDENT);
  const polynomials = values.map((column) => planePolynomial(degree, solveFactorised(qr, column), frame));
  const [first] = polynomials as [PlanePolynomial];
  let worst = 0;
  for (let k = 0; k < points; k++)
    worst = Math.max(worst, Math.abs(first.at(xs[k]!, ys[k]!) - values[0]![k]!));
  return { polynomials, worst };
}

/** A power that the points tell from the others by less than this part of the largest is left out. */
const DEPENDENT = 1e-12;

function exponents(degree: number): readonly (readonly [number, number])[] {
  const powers: [number, number][] = [];
  for (let i = 0; i <= degree; i++) for (let j = 0; j <= degree - i; j++) powers.push([i, j]);
  return powers;
}

function frameOf(xs: Float64Array, ys: Float64Array): Frame {
  const [left, right] = [xs.reduce((a, b) => Math.min(a, b)), xs.reduce((a, b) => Math.max(a, b))];
  const [bottom, top] = [ys.reduce((a, b) => Math.min(a, b)), ys.reduce((a, b) => Math.max(a, b))];
  return {
    x: (left + right) / 2,
    y: (bottom + top) / 2,
    halfWidth: (right - left) / 2,
    halfHeight: (top - bottom) / 2,
  };
}
