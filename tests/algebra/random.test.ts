import { describe, expect, it } from 'vitest';
import { pcg32, randomFrom } from '../../src/algebra/random.ts';

describe('random numbers', () => {
  it('gives the first words of the PCG author’s demonstration, seed 42, stream 54', () => {
    // From memory, as printed by `pcg32-demo` of the C library.
    const random = pcg32(42n, 54n);
    const words = Array.from({ length: 6 }, () => random.word().toString(16));
    expect(words).toEqual(['a15c02b7', '7b47f409', 'ba1d3330', '83d2f293', 'bfa4784b', 'cbed606e']);
  });

  it('follows the generator’s definition in whole numbers of any size', () => {
    let state = 0n;
    const mask = (1n << 64n) - 1n;
    const increment = (777n << 1n) | 1n;
    const advance = (): void => {
      state = (state * 6364136223846793005n + increment) & mask;
    };
    advance();
    state = (state + 0xfedcba9876543210n) & mask;
    advance();
    const random = pcg32(0xfedcba9876543210n, 777n);
    for (let count = 0; count < 2000; count++) {
      const mixed = (((state >> 18n) ^ state) >> 27n) & 0xffffffffn;
      const turn = state >> 59n;
      const word = ((mixed >> turn) | (mixed << (-turn & 31n))) & 0xffffffffn;
      expect(random.word()).toBe(Number(word));
      advance();
    }
  });

  it('repeats itself for a seed and differs for another', () => {
    const take = (seed: string): number[] => {
      const random = randomFrom(seed);
      return Array.from({ length: 5 }, () => random.normal());
    };
    expect(take('pose')).toEqual(take('pose'));
    expect(take('pose')).not.toEqual(take('pose 2'));
  });

  it('is uniform and normal in its first four moments, within five standard errors', () => {
    const random = randomFrom('moments');
    const count = 200_000;
    const uniform = new Float64Array(count).map(() => random.uniform());
    const normal = new Float64Array(count).map(() => random.normal());
    const moment = (values: Float64Array, power: number): number =>
      values.reduce((sum, value) => sum + value ** power, 0) / count;
    for (const [found, expected, variance] of [
      [moment(uniform, 1), 1 / 2, 1 / 12],
      [moment(uniform, 2), 1 / 3, 1 / 5 - 1 / 9],
      [moment(normal, 1), 0, 1],
      [moment(normal, 2), 1, 2],
      [moment(normal, 3), 0, 15],
      [moment(normal, 4), 3, 96],
    ] as const) {
      expect(Math.abs(found - expected)).toBeLessThan(5 * Math.sqrt(variance / count));
    }
    expect(uniform.every((value) => value > 0 && value < 1)).toBe(true);
  });
});
