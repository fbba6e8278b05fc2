import type { Effects } from '../../../src/metrology/budget/error-source.ts';

/** The effect on each of `count` readings, those that are not touched included. */
export function everyEffect({ at, by }: Effects, count: number): number[] {
  const all = new Array<number>(count).fill(0);
  at.forEach((reading, k) => {
    all[reading] = by[k]!;
  });
  return all;
}
