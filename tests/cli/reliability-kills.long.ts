/** Two hundred kills at random moments while one package replaces another. */
import { expect, test } from 'vitest';
import { makeKilledAtRandom } from './support/kills.ts';

test('killed at 200 random moments: the old package or the new one, never a mixture; the next run clears up', async () => {
  const met = await makeKilledAtRandom(200, 'many');
  console.log(met);
  // Of 200, 80 are killed anywhere in the run, which works for nine tenths of its time: were half of them in vain, 40 less five
  // standard deviations would still meet the old package.
  expect(met.old).toBeGreaterThan(20);
  // 80 are killed after the new package begins to appear: a quarter of them within the writing is the least that the slowest of killers
  // gives, 20 less three standard deviations.
  expect(met.halfWritten).toBeGreaterThan(8);
  // 40 are killed, if not too late, only once the new package is seen.
  expect(met.fresh + met.between + met.tooLate).toBeGreaterThanOrEqual(40);
  expect(met.tooLate).toBeLessThan(120);
}, 2_400_000);
