/** The estimator against the textbook one, (Aᵀ V⁻¹ A)⁻¹ with V the full covariance of the readings, and what it says of rank. */
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { choleskyFactor } from '../../src/algebra/triangular-factors.ts';
import { type ErrorSource, effectsOn } from '../../src/metrology/budget/error-source.ts';
import { estimate } from '../../src/metrology/estimate/linear-estimate.ts';
import { everyEffect } from './support/effects.ts';

const random = randomFrom('linear estimate');
const [m, n] = [14, 4];
const rows = new Float64Array(m * n).map(() => random.normal());
const u = new Float64Array(m).map(() => 0.002 + 0.02 * random.uniform());
const terms = Array.from({ length: m }, (_, k): 'reading' | 'measured length' =>
  k < 10 ? 'reading' : 'measured length',
);
const rowNumbers = (count: number): Iterable<number> => new Float64Array(count).keys();
const source = (term: ErrorSource['term'], size: number, everyRow: boolean): ErrorSource => ({
  term,
  name: term,
  u: size,
  distribution: 'normal',
  effects: effectsOn(rowNumbers(m), (k) => (everyRow || k === 3 ? random.normal() : 0)),
});
const sources = [
  source('air index', 0.05, true),
  source('nest', 0.01, true),
  source('ball form', 0.3, false),
];

/** (Aᵀ V⁻¹ A)⁻¹ by Cholesky factors, V = diag(u²) + Σ (effects u)(effects u)ᵀ. */
function textbook(sources: readonly ErrorSource[]): number[][] {
  const v = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    v[i * m + i] = u[i]! ** 2;
    for (let j = 0; j < m; j++) {
      for (const { effects, u: size } of sources) {
        const dense = everyEffect(effects, m);
        v[i * m + j]! += dense[i]! * dense[j]! * size * size;
      }
    }
  }
  const l = choleskyFactor(v, m);
  // Whitened columns L⁻¹ A, then the inverse of their Gram matrix.
  const white = Array.from({ length: n }, (_, column) => {
    const w = new Float64Array(m);
    for (let i = 0; i < m; i++) {
      let sum = rows[i * n + column]!;
      for (let k = 0; k < i; k++) sum -= l[i * m + k]! * w[k]!;
      w[i] = sum / l[i * m + i]!;
    }
    return w;
  });
  const gram = white.map((a) => white.map((b) => a.reduce((sum, x, k) => sum + x * b[k]!, 0)));
  return invert(gram);
}

/** Gauss–Jordan without pivoting: for a positive definite matrix. */
function invert(matrix: readonly (readonly number[])[]): number[][] {
  const size = matrix.length;
  const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let k = 0; k < size; k++) {
    const pivot = work[k]![k]!;
    work[k] = work[k]!.map((entry) => entry / pivot);
    for (let i = 0; i < size; i++) {
      if (i === k) continue;
      const factor = work[i]![k]!;
      work[i] = work[i]!.map((entry, j) => entry - factor * work[k]![j]!);
    }
  }
  return work.map((row) => row.slice(size));
}

describe('linear estimate with common errors', () => {
  const found = estimate({ rows, unknowns: n, u, terms, sources });

  it('has the covariance of the best linear estimate of correlated readings', () => {
    const expected = textbook(sources);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const scale = Math.sqrt(expected[i]![i]! * expected[j]![j]!);
        expect(Math.abs(found.covariance[i * n + j]! - expected[i]![j]!)).toBeLessThan(1e-10 * scale);
      }
    }
  });

  it('has it too where errors touch few readings each and overlap one another in part', () => {
    const overlapping = Array.from({ length: 25 }, (_, k): ErrorSource => {
      const touched = [...rowNumbers(m)].filter((row) => (row * 7 + k * 5) % 14 < 1 + (k % 6));
      return {
        term: 'nest',
        name: `${k}`,
        u: 0.03,
        distribution: 'normal',
        effects: effectsOn(touched, () => random.normal()),
      };
    });
    const { covariance, gains } = estimate({ rows, unknowns: n, u, terms, sources: overlapping });
    const expected = textbook(overlapping);
    const dense = overlapping.map(({ effects }) => everyEffect(effects, m));
    for (let i = 0; i < n; i++) {
      // The gains by themselves: what they make of all the readings' errors is that covariance.
      let through = 0;
      for (let k = 0; k < m; k++) through += (gains[i * m + k]! * u[k]!) ** 2;
      for (const effects of dense)
        through += effects.reduce((sum, effect, k) => sum + gains[i * m + k]! * effect * 0.03, 0) ** 2;
      expect(Math.abs(through / expected[i]![i]! - 1)).toBeLessThan(1e-10);
      for (let j = 0; j < n; j++) {
        const scale = Math.sqrt(expected[i]![i]! * expected[j]![j]!);
        expect(Math.abs(covariance[i * n + j]! - expected[i]![j]!)).toBeLessThan(1e-10 * scale);
      }
    }
  });

  it('books all of the variance to its terms', () => {
    expect([...found.variances.keys()].sort()).toEqual([
      'air index',
      'ball form',
      'measured length',
      'nest',
      'reading',
    ]);
    for (let i = 0; i < n; i++) {
      const sum = [...found.variances.values()].reduce((total, values) => total + values[i]!, 0);
      expect(sum).toBeCloseTo(found.covariance[i * n + i]!, 15);
    }
  });

  it('has gains that return the unknowns from their own readings', () => {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let product = 0;
        for (let k = 0; k < m; k++) product += found.gains[i * m + k]! * rows[k * n + j]!;
        expect(product).toBeCloseTo(i === j ? 1 : 0, 11);
      }
    }
  });

  it('does not average away an error that is common to all readings', () => {
    const count = 100;
    const common: ErrorSource = {
      term: 'nest',
      name: 'one for all',
      u: 0.5,
      distribution: 'normal',
      effects: effectsOn(rowNumbers(count), () => 1),
    };
    const { covariance } = estimate({
      rows: new Float64Array(count).fill(1),
      unknowns: 1,
      u: new Float64Array(count).fill(1),
      terms: Array.from({ length: count }, () => 'reading' as const),
      sources: [common],
    });
    expect(covariance[0]).toBeCloseTo(1 / count + 0.25, 14);
  });
});

describe('rank', () => {
  it('names the combinations that no reading sees, by whatever uncertainties', () => {
    const seen = [
      [1, 1, 0, 0],
      [1, 1, 1, 0],
    ];
    const found = estimate({
      rows: Float64Array.from(seen.flat()),
      unknowns: 4,
      u: Float64Array.of(1e-9, 1e6),
      terms: ['reading', 'reading'],
      sources: [],
    });
    expect(found.unobserved).toHaveLength(2);
    for (const direction of found.unobserved) {
      for (const row of seen) {
        expect(row.reduce((sum, entry, k) => sum + entry * direction[k]!, 0)).toBeCloseTo(0, 14);
      }
    }
    expect(found.covariance.every(Number.isFinite)).toBe(true);
  });

  it('is nothing without readings', () => {
    const none = { rows: new Float64Array(0), unknowns: 3, u: new Float64Array(0), terms: [], sources: [] };
    expect(estimate(none).unobserved).toHaveLength(3);
  });
});
