/** Two hundred kills at random moments while one package replaces another. */
import { expect, test } from 'vitest';
import { killedAtRandom } from './support/kills.ts';

test('killed at 200 random moments: the old package or the new one, never a mixture', async () => {
  const { old, fresh } = await killedAtRandom(200, 'many');
  // Both ends must have been met, or the kills fell outside of the writing.
  expect(Math.min(old, fresh)).toBeGreaterThan(10);
});
