/** χ² tails against tabulated quantiles (M. Abramowitz, I. A. Stegun, table 26.8, from memory), and the consistency of drawn readings. */
import { describe, expect, it } from 'vitest';
import { chiSquaredTail } from '../../src/algebra/distributions.ts';
import { randomFrom } from '../../src/algebra/random.ts';
import { CONTRADICTION, consistencyOf } from '../../src/metrology/estimate/consistency.ts';
import { estimate } from '../../src/metrology/estimate/linear-estimate.ts';
import '../machine/patience.ts';

describe('χ²', () => {
  it.each([
    [3.841459, 1, 0.05],
    [5.991465, 2, 0.05],
    [11.344867, 3, 0.01],
    [18.307038, 10, 0.05],
    [10.827566, 1, 0.001],
    [124.342113, 100, 0.05],
  ])('exceeds %f with %i degrees of freedom with probability %f', (value, nu, tail) => {
    expect(chiSquaredTail(value, nu)).toBeCloseTo(tail, 7);
  });

  it('is 1 at nothing and refuses half a degree of freedom', () => {
    expect(chiSquaredTail(0, 3)).toBe(1);
    expect(() => chiSquaredTail(1, 1.5)).toThrow(/whole number/);
  });
});

describe('consistency of correlated readings', () => {
  // Two unknowns, six readings; one error is common to the first three.
  const rows = Float64Array.of(1, 0, 0, 1, 1, 1, 1, -1, 2, 1, 1, 3);
  const u = Float64Array.of(1, 1, 0.5, 1, 2, 1);
  const sources = [
    {
      term: 'nest' as const,
      name: 'common',
      u: 2,
      distribution: 'normal' as const,
      effects: { at: [0, 1, 2], by: [1, 1, 1] },
    },
  ];
  const { covariance, gains } = estimate({
    rows,
    unknowns: 2,
    u,
    terms: [...u].map(() => 'reading' as const),
    sources,
  });
  const residualsOf = (readings: readonly number[]): number[] => {
    const found = [0, 1].map((k) => readings.reduce((sum, y, i) => sum + gains[k * 6 + i]! * y, 0));
    return readings.map((y, i) => y - rows[i * 2]! * found[0]! - rows[i * 2 + 1]! * found[1]!);
  };
  const test = (readings: readonly number[]) =>
    consistencyOf({ rows, unknowns: 2, covariance, rank: 2, u: [...u], sources }, residualsOf(readings));

  it('has χ² of mean ν and variance 2ν, and unit normalised residuals, over many draws', () => {
    const random = randomFrom('consistency');
    const trials = 20_000;
    let [sum, squares, contradictory] = [0, 0, 0];
    const normalised = new Float64Array(6);
    for (let trial = 0; trial < trials; trial++) {
      const common = 2 * random.normal();
      const found = test([...u].map((each, i) => each * random.normal() + (i < 3 ? common : 0)));
      sum += found.chiSquared;
      squares += found.chiSquared ** 2;
      contradictory += +found.contradictory;
      found.normalised.forEach((value, i) => {
        normalised[i]! += value! ** 2 / trials;
      });
    }
    // Five standard errors: of the mean √(2ν/n), of the variance about √(48ν + 8ν²)/√n; ν = 4.
    expect(Math.abs(sum / trials - 4)).toBeLessThan(5 * Math.sqrt(8 / trials));
    expect(Math.abs(squares / trials - (sum / trials) ** 2 - 8)).toBeLessThan(5 * Math.sqrt(320 / trials));
    for (const mean of normalised) expect(Math.abs(mean - 1)).toBeLessThan(5 * Math.sqrt(2 / trials));
    expect(Math.abs(contradictory / trials - CONTRADICTION)).toBeLessThan(
      5 * Math.sqrt(CONTRADICTION / trials),
    );
  });

  it.each([0, 1, 2, 3, 4, 5])('names reading %i where it alone is far off', (wrong) => {
    const readings = [0, 0, 0, 0, 0, 0];
    readings[wrong] = 30;
    expect(test(readings)).toMatchObject({ contradictory: true, worst: [wrong] });
  });
});
