import { describe, expect, it } from 'vitest';
import { discQuadrature, gaussLegendre } from '../../src/algebra/disc-quadrature.ts';
import {
  zernikeCoefficients,
  zernikeCount,
  zernikeIndexFromOrders,
  zernikeNorm,
  zernikeOrdersFromIndex,
  zernikePolynomials,
  zernikeSum,
} from '../../src/optics/zernike.ts';

// ISO 24157 index j, N².
const TABLE = [
  [0, 1],
  [1, 4],
  [2, 4],
  [3, 6],
  [4, 3],
  [5, 6],
  [6, 8],
  [7, 8],
  [8, 8],
  [9, 8],
  [10, 10],
  [11, 10],
  [12, 5],
  [13, 10],
  [14, 10],
] as const;

describe('Zernike indices', () => {
  it.each(TABLE)('j = %d has N² = %d', (j, normSquared) => {
    expect(zernikeNorm(zernikeOrdersFromIndex(j)) ** 2).toBeCloseTo(normSquared, 12);
  });

  it('come back from their orders', () => {
    for (let j = 0; j < 2000; j++) {
      expect(zernikeIndexFromOrders(zernikeOrdersFromIndex(j))).toBe(j);
    }
  });

  it('refuse what is no index', () => {
    expect(() => zernikeOrdersFromIndex(-1)).toThrow(RangeError);
    expect(() => zernikeIndexFromOrders([3, 2])).toThrow(/n = 3, m = 2/);
  });
});

describe('Zernike polynomials', () => {
  it('are the closed forms at a point off every axis', () => {
    const [x, y] = [0.31, -0.52];
    const square = x * x + y * y;
    const closed = [
      1,
      2 * y,
      2 * x,
      Math.sqrt(6) * 2 * x * y,
      Math.sqrt(3) * (2 * square - 1),
      Math.sqrt(6) * (x * x - y * y),
      Math.sqrt(8) * (3 * x * x * y - y ** 3),
      Math.sqrt(8) * (3 * square - 2) * y,
      Math.sqrt(8) * (3 * square - 2) * x,
      Math.sqrt(8) * (x ** 3 - 3 * x * y * y),
      Math.sqrt(10) * 4 * (x ** 3 * y - x * y ** 3),
      Math.sqrt(10) * (4 * square - 3) * 2 * x * y,
      Math.sqrt(5) * (6 * square * square - 6 * square + 1),
    ];
    const terms = zernikePolynomials(x, y, 4);
    closed.forEach((value, j) => {
      expect(terms[j]).toBeCloseTo(value, 14);
    });
  });

  it('are orthonormal over the disc up to order 12', () => {
    const { xs, ys, weights } = discQuadrature(24);
    const count = zernikeCount(12);
    const gram = new Float64Array(count * count);
    xs.forEach((x, at) => {
      const terms = zernikePolynomials(x, ys[at]!, 12);
      for (let i = 0; i < count; i++) {
        for (let j = 0; j < count; j++) gram[i * count + j]! += weights[at]! * terms[i]! * terms[j]!;
      }
    });
    let worst = 0;
    for (let i = 0; i < count; i++) {
      for (let j = 0; j < count; j++) {
        worst = Math.max(worst, Math.abs(gram[i * count + j]! - (i === j ? 1 : 0)));
      }
    }
    expect(worst).toBeLessThan(1e-13);
  });

  it('keep R_n^m(1) = 1 to order 100', () => {
    const angle = 0.7;
    const terms = zernikePolynomials(Math.cos(angle), Math.sin(angle), 100);
    for (const m of [0, 2, 40, 100]) {
      const expected = zernikeNorm([100, m]) * Math.cos(m * angle);
      expect(Math.abs(terms[zernikeIndexFromOrders([100, m])]! - expected)).toBeLessThan(1e-11);
    }
  });
});

describe('Zernike coefficients', () => {
  it('come back from a sum of terms', () => {
    const given = Float64Array.from({ length: zernikeCount(9) }, (_, j) => Math.sin(1 + 3 * j));
    const found = zernikeCoefficients((xs, ys) => zernikeSum(given, [3, -7], 12, xs, ys), [3, -7], 12, 9);
    found.forEach((value, j) => {
      expect(value).toBeCloseTo(given[j]!, 13);
    });
  });

  it('of a smooth eikonal reproduce it over the disc, better with each order', () => {
    const eikonal = (x: number, y: number): number =>
      (Math.hypot(x - 20, y + 5, 300) - Math.hypot(20, 5, 300)) / 632.8e-6;
    const evaluate = (xs: Float64Array, ys: Float64Array): Float64Array =>
      xs.map((x, at) => eikonal(x, ys[at]!));
    const worst = [4, 6, 8].map((order) => {
      const coefficients = zernikeCoefficients(evaluate, [0, 60], 10, order);
      const xs = Float64Array.from({ length: 500 }, (_, k) => 10 * Math.sqrt(k / 499) * Math.cos(2.4 * k));
      const ys = Float64Array.from(
        { length: 500 },
        (_, k) => 60 + 10 * Math.sqrt(k / 499) * Math.sin(2.4 * k),
      );
      const sum = zernikeSum(coefficients, [0, 60], 10, xs, ys);
      return Math.max(...sum.map((value, at) => Math.abs(value - eikonal(xs[at]!, ys[at]!))));
    });
    expect(worst[0]).toBeLessThan(1e-3);
    expect(worst[1]).toBeLessThan(1e-6);
    expect(worst[2]).toBeLessThan(1e-9);
  });
});

describe('quadrature', () => {
  it('has the four-point Gauss–Legendre nodes and weights', () => {
    // M. Abramowitz, I. A. Stegun, table 25.4, from memory.
    const { nodes, weights } = gaussLegendre(4);
    expect(nodes[3]).toBeCloseTo(0.861136311594053, 14);
    expect(nodes[2]).toBeCloseTo(0.339981043584856, 14);
    expect(weights[3]).toBeCloseTo(0.347854845137454, 14);
    expect(weights[2]).toBeCloseTo(0.652145154862546, 14);
  });

  it('averages even powers of x over the disc: mean of x^2k = (2k)!/(4^k k! (k + 1)!)', () => {
    const { xs, weights } = discQuadrature(20);
    for (let k = 0; k <= 10; k++) {
      let expected = 1;
      for (let f = 1; f <= k; f++) expected *= (2 * f - 1) / (2 * f + 2);
      const mean = xs.reduce((sum, x, at) => sum + weights[at]! * x ** (2 * k), 0);
      expect(mean).toBeCloseTo(expected, 14);
    }
  });
});
