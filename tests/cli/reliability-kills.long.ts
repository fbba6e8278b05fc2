/** 120 of the 200 kills at random moments: while one package, set of pictures or plan replaces another. The rest beside, of batches. */
import { expect, test } from 'vitest';
import { PACKAGES, packageKilledAtRandom } from './support/kills.ts';
import { planKilledAtRandom } from './support/kills-plan.ts';

const COUNT = 40;

test.each(Object.keys(PACKAGES) as (keyof typeof PACKAGES)[])(
  `${COUNT} kills of %s: the old package or the new one, never a mixture; the next run clears up`,
  async (command) => {
    const met = await packageKilledAtRandom(command, COUNT, 'many');
    console.log(command, met);
    // Of 40, 16 are killed anywhere in the run, which works for nine tenths of its time: 8 less two standard deviations would still
    // meet the old package if half of them were in vain.
    expect(met.old).toBeGreaterThan(3);
    // 8 are killed, if not too late, only once the new package is seen.
    expect(met.fresh + met.between + met.tooLate).toBeGreaterThanOrEqual(8);
    expect(met.tooLate).toBeLessThan(25);
  },
  1_200_000,
);

test(`${COUNT} kills of plan: the old files or the new ones, each whole; the next run clears up`, async () => {
  const met = await planKilledAtRandom(COUNT, 'many');
  console.log('plan', met);
  // 20 are killed anywhere in a run whose last hundredth writes.
  expect(met.old).toBeGreaterThan(8);
}, 1_200_000);
