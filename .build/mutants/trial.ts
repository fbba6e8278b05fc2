/** One mutant tried: the tests that import its file, the compiler, then the tests that start the program. */
import { type Baseline, BUILD_LIMIT } from './baseline.ts';
import { runs, runTests } from './run-tests.ts';
import type { Scratch } from './scratch.ts';
import { type Mutant, mutated } from './sites.ts';
import type { TestFile } from './tests-of.ts';

export type Status = 'caught' | 'timeout' | 'survived' | 'invalid';

export interface Outcome {
  readonly status: Status;
  /** The test file that failed or ran out of time; `build` if the program could not be built. */
  readonly by?: string;
  /** The test that failed. */
  readonly test?: string;
  readonly seconds: number;
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

/** Tries a mutant in a scratch copy, which is as before afterwards. */
export async function tryMutant(
  mutant: Mutant,
  scratch: Scratch,
  tests: { readonly near: readonly TestFile[]; readonly far: readonly TestFile[] },
  baseline: Baseline,
): Promise<Outcome> {
  const begun = performance.now();
  const source = scratch.read(mutant.file);
  scratch.write(mutant.file, mutated(source, mutant));
  try {
    const outcome =
      (await failing(scratch, tests.near, baseline)) ??
      ((await typesFit(scratch)) ? await failingBuilt(scratch, tests.far, baseline) : { status: 'invalid' });
    return { ...(outcome ?? { status: 'survived' }), seconds: (performance.now() - begun) / 1000 };
  } finally {
    scratch.write(mutant.file, source);
  }
}

type Ended = Omit<Outcome, 'seconds'>;

const typesFit = ({ project }: Scratch): Promise<boolean> => runs(project, TYPES, TYPES_LIMIT);

async function failingBuilt(
  scratch: Scratch,
  tests: readonly TestFile[],
  baseline: Baseline,
): Promise<Ended | undefined> {
  if (tests.length === 0) return undefined;
  if (!(await runs(scratch.project, ['.build/bundle.mjs'], BUILD_LIMIT)))
    return { status: 'caught', by: 'build' };
  return failing(scratch, tests, baseline);
}

/** The first of the tests that fails, in this order. */
async function failing(
  { project }: Scratch,
  tests: readonly TestFile[],
  baseline: Baseline,
): Promise<Ended | undefined> {
  const names = tests.filter((test) => baseline.passes(test)).map(({ name }) => name);
  if (names.length === 0) return undefined;
  const run = await runTests(project, names, { bail: true, expected: (test) => baseline.seconds(test) });
  if (run.timedOutIn !== undefined) return { status: 'timeout', by: run.timedOutIn };
  const fell = run.files.find(({ ok }) => !ok);
  if (fell !== undefined) {
    return { status: 'caught', by: fell.name, ...(fell.failed === undefined ? {} : { test: fell.failed }) };
  }
  return run.broken === undefined ? undefined : { status: 'caught', by: names.at(-1)!, test: run.broken };
}
