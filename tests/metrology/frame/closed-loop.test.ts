/** The loop that a camera closes ends where steering says: a few starts; hundreds are in closed-loop.long.ts. */
import { expect, it } from 'vitest';
import { LOOP_CASES, loopOf } from './support/loop-cases.ts';

it.each(LOOP_CASES)('frames alone bring the part of $example to its place', (loop) => {
  const from = loopOf(loop);
  const ended = [1, 2].map((seed) => from(seed, loop.most));
  if (process.env.SHOW) console.log(loop.example, JSON.stringify(ended));
  expect(ended.filter(({ done, worst, reversed }) => !(done && worst < 3 && reversed === 0))).toEqual([]);
});
