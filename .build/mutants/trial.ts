/** One mutant tried: the tests that import its file, the compiler, then the tests that start the program. */
import { type Baseline, BUILD_LIMIT } from './baseline.ts';
import { runs, runTests } from './run-tests.ts';
import type { Scratch } from './scratch.ts';
import { type Mutant, mutated } from './sites.ts';
import type { TestFile, testsOf } from './tests-of.ts';

export type Status = 'caught' | 'timeout' | 'survived' | 'invalid';

export interface Outcome {
  readonly status: Status;
  /** The test file that failed or ran out of time; `build` if the program could not be built. */
  readonly by?: string;
  /** The test that failed. */
  readonly test?: string;
}

/** The compiler's complaints about what is left unused are of no account: whoever leaves out a rule leaves out its import too. */
const TYPES = [
  'node_modules/typescript/bin/tsc',
  '--noEmit',
  '--noUnusedLocals',
  'false',
  '--noUnusedParameters',
  'false',
];
const TYPES_LIMIT = 120;

/** The tests that import the mutated file; undefined if they all pass. */
export const tryNear: Trial = (mutant, scratch, { near }, baseline) =>
  mutatedIn(scratch, mutant, () => failing(scratch, near, baseline));

/** The compiler, then the tests that start the program, built with the mutant. */
export const tryFar: Trial = (mutant, scratch, { far }, baseline) =>
  mutatedIn(scratch, mutant, async () =>
    (await typesFit(scratch)) ? failingBuilt(scratch, far, baseline) : { status: 'invalid' },
  );

/** Tries a mutant in a scratch copy, which is as before afterwards. */
type Trial = (
  mutant: Mutant,
  scratch: Scratch,
  tests: ReturnType<typeof testsOf>,
  baseline: Baseline,
) => Promise<Outcome | undefined>;

async function mutatedIn(
  scratch: Scratch,
  mutant: Mutant,
  work: () => Promise<Outcome | undefined>,
): Promise<Outcome | undefined> {
  const source = scratch.read(mutant.file);
  scratch.write(mutant.file, mutated(source, mutant));
  try {
    return await work();
  } finally {
    scratch.write(mutant.file, source);
  }
}

const typesFit = (scratch: Scratch): Promise<boolean> => runs(scratch, TYPES, TYPES_LIMIT);

async function failingBuilt(
  scratch: Scratch,
  tests: readonly TestFile[],
  baseline: Baseline,
): Promise<Outcome | undefined> {
  if (tests.length === 0) return undefined;
  if (!(await runs(scratch, ['.build/bundle.mjs'], BUILD_LIMIT))) return { status: 'caught', by: 'build' };
  return failing(scratch, tests, baseline);
}

/** The first of the tests that fails, in this order. */
async function failing(
  scratch: Scratch,
  tests: readonly TestFile[],
  baseline: Baseline,
): Promise<Outcome | undefined> {
  const names = tests.filter((test) => baseline.passes(test)).map(({ name }) => name);
  if (names.length === 0) return undefined;
  const run = await runTests(scratch, names, { bail: true, expected: (test) => baseline.seconds(test) });
  if (run.timedOutIn !== undefined) return { status: 'timeout', by: run.timedOutIn };
  const fell = run.files.find(({ ok }) => !ok);
  if (fell !== undefined) {
    return { status: 'caught', by: fell.name, ...(fell.failed === undefined ? {} : { test: fell.failed }) };
  }
  return run.broken === undefined ? undefined : { status: 'caught', by: names.at(-1)!, test: run.broken };
}
