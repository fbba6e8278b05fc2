/** The first half of 20,000 inputs by grammar, by changed branches and by changed bytes; two files, for two cores. */
import { test } from 'vitest';
import { expectEveryOutcome, fuzzed } from './support/fuzz.ts';

const COUNT = 10_000;

test(`${COUNT} inputs: none ends in a fault, hangs, or leaves a package that its exit code does not say`, async () => {
  const tally = await fuzzed(COUNT, 1);
  console.log(tally);
  expectEveryOutcome(tally, COUNT);
}, 3_000_000);
