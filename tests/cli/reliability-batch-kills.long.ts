/** 80 of the 200 kills at random moments: of a batch, which goes on where it was, and of the gathering of its shards. */
import { expect, test } from 'vitest';
import { batchKilledAtRandom, gatherKilledAtRandom } from './support/kills-batch.ts';

const COUNT = 40;

test(`${COUNT} kills of a batch: whole packages at any time, and the next run goes on from there`, async () => {
  const met = await batchKilledAtRandom(COUNT, 'many');
  console.log(met);
  // Delays are spread over a batch's whole duration: were every second one too late, 20 less three standard deviations would do.
  expect(met.killed).toBeGreaterThan(10);
  // Four kills before each run to the end: one of them, at least, comes after the first case in most of the 10 rounds.
  expect(met.resumed).toBeGreaterThan(met.rounds / 4);
}, 2_400_000);

test(`${COUNT} kills of a gathering: whole packages at any time, and the next run gives what an undisturbed one does`, async () => {
  const met = await gatherKilledAtRandom(COUNT, 'many');
  console.log(met);
  expect(met.killed).toBeGreaterThan(10);
}, 1_200_000);
