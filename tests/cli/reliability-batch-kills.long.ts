/** Two hundred kills at random moments of a batch, which goes on where it was. */
import { expect, test } from 'vitest';
import { batchKilledAtRandom } from './support/kills.ts';

test('killed at 200 random moments: whole packages at any time, and the next run goes on from there', async () => {
  const met = await batchKilledAtRandom(200, 'many');
  console.log(met);
  // Delays are spread over a batch's whole duration: were every second one too late, 100 less five standard deviations would do.
  expect(met.killed).toBeGreaterThan(65);
  // Four kills before each run to the end: one of them, at least, comes after the first case in most of the 50 rounds.
  expect(met.resumed).toBeGreaterThan(met.rounds / 4);
}, 2_400_000);
