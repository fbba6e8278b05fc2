/**
 * Freeform sags that are polynomials of x and y: xy powers, and Zernike circle polynomials, each multiplied out into powers of x and y. mm.
 */
import type { Sag } from './sag.ts';

/** A term c xⁱ yʲ. */
export interface XyTerm {
  readonly i: number;
  readonly j: number;
  readonly coefficient: number;
}

/**
 * A term c Z_n^m of ISO 24157: Z_n^m = N R_n^|m|(ρ) cos mθ for m ≥ 0 and N R_n^|m|(ρ) sin |m|θ for m < 0, N = √(2(n + 1)/(1 + δ_m0)), with
 * θ from +x toward +y; n − |m| is even and not negative.
 */
export interface ZernikeTerm {
  readonly n: number;
  readonly m: number;
  /** mm: the rms height of the term over its disc. */
  readonly coefficient: number;
}

/** Σ c xⁱ yʲ, with x and y in units of `unit`, mm. */
export function polynomialSag(terms: readonly XyTerm[], unit = 1): Sag {
  const degree = terms.reduce((most, { i, j }) => Math.max(most, i, j), 0);
  const [us, vs] = [new Float64Array(degree + 1), new Float64Array(degree + 1)];
  /** The k-th derivative of the power's monomial. */
  const slope = (powers: Float64Array, power: number): number => (power > 0 ? power * powers[power - 1]! : 0);
  const bend = (powers: Float64Array, power: number): number =>
    power > 1 ? power * (power - 1) * powers[power - 2]! : 0;
  return {
    isRound: false,
    at(x, y, out) {
      us[0] = 1;
      vs[0] = 1;
      for (let k = 1; k <= degree; k++) {
        us[k] = us[k - 1]! * (x / unit);
        vs[k] = vs[k - 1]! * (y / unit);
      }
      out.fill(0);
      for (const { i, j, coefficient } of terms) {
        const [u1, v1] = [slope(us, i), slope(vs, j)];
        out[0]! += coefficient * us[i]! * vs[j]!;
        out[1]! += coefficient * u1 * vs[j]!;
        out[2]! += coefficient * us[i]! * v1;
        out[3]! += coefficient * bend(us, i) * vs[j]!;
        out[4]! += coefficient * u1 * v1;
        out[5]! += coefficient * us[i]! * bend(vs, j);
      }
      for (let k = 1; k < 6; k++) out[k]! /= k < 3 ? unit : unit * unit;
      return true;
    },
  };
}

/** Σ c Z_n^m(x/radius, y/radius); beyond the disc the polynomials go on. */
export function zernikeSag(radius: number, terms: readonly ZernikeTerm[]): Sag {
  const sum = new Map<string, XyTerm>();
  for (const { n, m, coefficient } of terms) {
    for (const { i, j, coefficient: c } of zernikePowers(n, m)) {
      const before = sum.get(`${i},${j}`)?.coefficient ?? 0;
      sum.set(`${i},${j}`, { i, j, coefficient: before + coefficient * c });
    }
  }
  return polynomialSag([...sum.values()], radius);
}

/**
 * Z_n^m in powers of x and y: N Σ_s (−1)^s (n − s)!/(s! ((n + |m|)/2 − s)! ((n − |m|)/2 − s)!) (x² + y²)^((n − |m|)/2 − s), times the real
 * (m ≥ 0) or imaginary part of (x + iy)^|m|.
 */
function zernikePowers(n: number, m: number): readonly XyTerm[] {
  const turns = Math.abs(m);
  const [most, least] = [(n + turns) / 2, (n - turns) / 2];
  const norm = Math.sqrt(m === 0 ? n + 1 : 2 * (n + 1));
  const terms: XyTerm[] = [];
  for (let s = 0; s <= least; s++) {
    const rest = least - s;
    const radial = (s % 2 === 0 ? 1 : -1) * norm * binomial(n - s, s) * binomial(n - 2 * s, most - s);
    for (let a = 0; a <= rest; a++) {
      // iᵏ y^k of (x + iy)^|m|: real for even k, imaginary for odd ones, with the sign of every second pair turned.
      for (let k = m < 0 ? 1 : 0; k <= turns; k += 2) {
        const sign = Math.floor(k / 2) % 2 === 0 ? 1 : -1;
        const coefficient = radial * sign * binomial(rest, a) * binomial(turns, k);
        terms.push({ i: 2 * (rest - a) + turns - k, j: 2 * a + k, coefficient });
      }
    }
  }
  return terms;
}

function binomial(n: number, k: number): number {
  let product = 1;
  for (let step = 1; step <= k; step++) product = (product * (n - k + step)) / step;
  return product;
}
