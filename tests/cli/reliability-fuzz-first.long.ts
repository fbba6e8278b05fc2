/** The first half of 20,000 inputs by grammar, by changed branches, cells and bytes, shared among all commands; two files, for two cores. */
import { test } from 'vitest';
import { expectEveryOutcome, fuzzed, HALF } from './support/fuzz.ts';

test(`${HALF} inputs of all commands: none ends in a fault, hangs, prints what has no form, or leaves an output that its exit code does not say`, async () => {
  const tally = await fuzzed(HALF, 1);
  console.table(tally);
  expectEveryOutcome(tally, HALF);
}, 3_000_000);
