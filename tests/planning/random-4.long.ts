/** Scenarios by chance, part 4 of 4: each is planned, none fails its check. */
import { expect, test } from 'vitest';
import { batchesOf, failuresOf } from './support/random-plans.ts';

test.each(batchesOf(4))('scenarios $from to $to', (batch) => {
  expect(failuresOf(batch)).toEqual([]);
});
