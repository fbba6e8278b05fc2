/** The closed loop from a thousand random starts, near the null and out to the edge of the capture range. */
import { describe, expect, it } from 'vitest';
import { LOOPS, runLoops } from './support/closed-loop.ts';

/** Rounding to a tenth is a third of the stated 0.1 fringe; a normal error would be within one σ in six degrees at once in 10 %. */
const SHARES = [0.02, 0.1, 0.3, 0.6, 0.95];
const STARTS = 100;

describe.each(LOOPS)('a hundred starts at each distance on $example', (loop) => {
  it.each(SHARES)('%s of the capture range', (share) => {
    const moves = share < 0.1 ? 1 : 2;
    const outcomes = runLoops(loop, share, STARTS, moves);
    expect(outcomes.filter(({ last, allExact }) => !(last < 1.5 && allExact))).toEqual([]);
    expect(outcomes.filter(({ last }) => last < 1).length).toBeGreaterThanOrEqual(0.99 * STARTS);
  });
});
