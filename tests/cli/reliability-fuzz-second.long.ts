/** The second half of 20,000 inputs by grammar, by changed branches, cells and bytes, shared among all commands; two files, for two cores. */
import { test } from 'vitest';
import { expectEveryOutcome, fuzzed } from './support/fuzz.ts';

const COUNT = 10_000;

test(`${COUNT} inputs of all commands: none ends in a fault, hangs, prints what has no form, or leaves an output that its exit code does not say`, async () => {
  const tally = await fuzzed(COUNT, 2);
  console.table(tally);
  expectEveryOutcome(tally, COUNT);
}, 3_000_000);
