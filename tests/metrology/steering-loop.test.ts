/**
 * The closed loop: a part displaced in six degrees, the exact traced fringes rounded to a tenth, steer, move, read again. What is
 * left lies inside the stated uncertainty of every degree. A thousand starts are in steering-loop.long.ts.
 */
import { describe, expect, it } from 'vitest';
import { LOOPS, runLoops } from './support/closed-loop.ts';
import '../machine/patience.ts';

describe.each(LOOPS)('the loop on $example', (loop) => {
  it('closes in one move near the null', () => {
    const outcomes = runLoops(loop, 0.05, 5, 1);
    expect(outcomes.filter(({ first, allExact }) => !(first < 1 && allExact))).toEqual([]);
  });

  it('closes in two moves from the edge of the capture range', () => {
    const outcomes = runLoops(loop, 0.95, 5, 2);
    expect(outcomes.filter(({ last, allExact }) => !(last < 1 && allExact))).toEqual([]);
  });
});
