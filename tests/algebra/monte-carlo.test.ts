import { describe, expect, it } from 'vitest';
import '../machine/patience.ts';
import {
  type Distribution,
  propagateDistributions,
  standardDeviationOf,
} from '../metrology/support/distributions.ts';
import { propagate } from '../metrology/support/gum-model.ts';

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
const ROOT_3 = Math.sqrt(3);

describe('propagation of distributions', () => {
  // JCGM 101:2008, 9.2, found in the document: four inputs of unit standard deviation, 95 %.
  it.each([
    ['normal', { kind: 'normal', mean: 0, sigma: 1 }, 3.92],
    ['rectangular', { kind: 'rectangular', mean: 0, halfWidth: ROOT_3 }, 3.88],
  ] as const)('of four %s inputs covers ±%s', (kind, distribution, half) => {
    const found = propagateDistributions(sum, Array(4).fill(distribution), {
      trials: 400_000,
      seed: `9.2 ${kind}`,
    });
    // Standard error of a quantile: √(p(1 − p)/n)/density, here about 0.008; four of them.
    for (const interval of [found.symmetric, found.shortest]) {
      expect(Math.abs(interval[0] + half)).toBeLessThan(0.04);
      expect(Math.abs(interval[1] - half)).toBeLessThan(0.04);
    }
    expect(Math.abs(found.u - 2)).toBeLessThan(4 * found.samplingError);
    expect(found.samplingError).toBeLessThan(0.003);
  });

  it.each<Distribution>([
    { kind: 'normal', mean: 3, sigma: 0.5 },
    { kind: 'rectangular', mean: -1, halfWidth: 2 },
    { kind: 'triangular', mean: 0, halfWidth: 2 },
    { kind: 'arcsine', mean: 0, halfWidth: 2 },
    { kind: 'student', mean: 1, scale: 2, degreesOfFreedom: 9 },
  ])('draws $kind with its mean and its spread', (distribution) => {
    const found = propagateDistributions(([x]) => x!, [distribution], {
      trials: 100_000,
      seed: distribution.kind,
    });
    expect(Math.abs(found.mean - distribution.mean)).toBeLessThan((5 * found.u) / Math.sqrt(found.trials));
    expect(Math.abs(found.u - standardDeviationOf(distribution))).toBeLessThan(5 * found.samplingError);
  });

  it('finds the shortest interval of a lopsided output', () => {
    // x² of a unit normal is densest at 0: its shortest interval starts there, the symmetric one does not.
    const found = propagateDistributions(([x]) => x! * x!, [{ kind: 'normal', mean: 0, sigma: 1 }], {
      trials: 100_000,
      seed: 'square',
    });
    expect(found.shortest[0]).toBeLessThan(1e-6);
    expect(found.shortest[1]).toBeCloseTo(1.959964 ** 2, 0);
    expect(found.symmetric[0]).toBeGreaterThan(1e-4);
    const width = (interval: readonly [number, number]): number => interval[1] - interval[0];
    expect(width(found.shortest)).toBeLessThan(width(found.symmetric));
  });

  it('agrees with the linear budget of a nearly linear model, within its own sampling error', () => {
    const model = ([a, b]: ArrayLike<number> & Iterable<number>): number => a! / b!;
    const linear = propagate(model, [
      { name: 'a', value: 5, u: 0.01 },
      { name: 'b', value: 2, u: 0.002 },
    ]);
    const sampled = propagateDistributions(
      model,
      [
        { kind: 'normal', mean: 5, sigma: 0.01 },
        { kind: 'normal', mean: 2, sigma: 0.002 },
      ],
      { trials: 100_000, seed: 'quotient' },
    );
    expect(Math.abs(sampled.u - linear.combined)).toBeLessThan(4 * sampled.samplingError);
  });

  it('repeats itself to the last bit for a seed', () => {
    const run = (seed: string) =>
      propagateDistributions(sum, [{ kind: 'student', mean: 0, scale: 1, degreesOfFreedom: 5 }], {
        trials: 1000,
        seed,
      });
    expect(run('a')).toEqual(run('a'));
    expect(run('a').mean).not.toBe(run('b').mean);
  });

  it('refuses what no interval can come from', () => {
    expect(() => propagateDistributions(sum, [], { trials: 3, seed: '' })).toThrow(/3 trials are too few/);
    expect(() => propagateDistributions(sum, [], { trials: 100, seed: '', coverage: 95 })).toThrow(
      /coverage is 95/,
    );
  });
});
