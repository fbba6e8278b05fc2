/** The loop that a camera closes ends where steering says: one start each; hundreds are in closed-loop.long.ts. */
import { expect, it } from 'vitest';
import { LOOP_CASES, loopOf } from './support/loop-cases.ts';

it.each(LOOP_CASES)('frames alone bring the part of $example to its place, $steps a round', (loop) => {
  const from = loopOf(loop);
  const ended = [from(1, loop.most)];
  expect(ended.filter(({ done, worst, reversed }) => !(done && worst < 3 && reversed === 0))).toEqual([]);
});
