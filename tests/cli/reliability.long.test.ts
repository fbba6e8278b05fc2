/** Two hundred kills at random moments; 20,000 inputs by grammar and by bytes, each of which must end as an exit code says. */
import { expect, test } from 'vitest';
import { fuzzed } from './support/fuzz.ts';
import { killedAtRandom } from './support/kills.ts';

test('killed at 200 random moments: the old package or the new one, never a mixture', async () => {
  const { old, fresh } = await killedAtRandom(200, 'many');
  // Both ends must have been met, or the kills fell outside of the writing.
  expect(Math.min(old, fresh)).toBeGreaterThan(10);
});

test('20,000 inputs: none ends in a fault, takes long, or gives a package that its exit code does not', () => {
  const { fine, broken, unusable } = fuzzed(20_000, 1);
  // The grammar reaches every outcome, or the test looks at one road only.
  expect(Math.min(fine, broken, unusable)).toBeGreaterThan(200);
}, 3_000_000);
