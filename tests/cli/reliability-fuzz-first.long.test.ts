/** The first half of 5,000 inputs by grammar and by bytes, each of which must end as an exit code says; two files, for two cores. */
import { expect, test } from 'vitest';
import { fuzzed } from './support/fuzz.ts';

test('2,500 inputs: none ends in a fault, takes long, or gives a package that its exit code does not', () => {
  const { fine, broken, unusable, fault } = fuzzed(2_500, 1);
  expect(fault).toBe(0);
  // The grammar reaches every outcome, or the test looks at one road only.
  expect(Math.min(fine, broken, unusable)).toBeGreaterThan(25);
}, 3_000_000);
