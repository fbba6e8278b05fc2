/** How the tests do without a mutant: what fails then tells nothing of a mutant, and how long each takes sets the limits of time. */
import { Kept } from './kept.ts';
import { runs, runTests } from './run-tests.ts';
import type { Scratch } from './scratch.ts';
import type { TestFile } from './tests-of.ts';

interface WithoutMutant {
  readonly hash: string;
  readonly ok: boolean;
  readonly seconds: number;
}

/** A build may take this long, s. */
export const BUILD_LIMIT = 120;
/** Before it is known, a test file is taken to need this long, s. */
const UNKNOWN = 60;

export class Baseline {
  readonly #kept = new Kept<WithoutMutant>('out/mutants/baseline.json');
  readonly #known = new Map(Object.entries(this.#kept.all()));

  /** Runs those of the tests that have changed since they last passed without a mutant. */
  async prepare(scratch: Scratch, tests: readonly TestFile[], say: (words: string) => void): Promise<void> {
    const unknown = tests.filter(
      (test) => this.#known.get(test.name)?.hash !== test.hash || !this.passes(test),
    );
    if (unknown.length === 0) return;
    say(`${unknown.length} test files without a mutant first`);
    await this.#run(
      scratch,
      unknown.filter((test) => !test.startsProgram),
    );
    const far = unknown.filter((test) => test.startsProgram);
    if (far.length === 0) return;
    if (!(await runs(scratch, ['.build/bundle.mjs'], BUILD_LIMIT))) throw new Error('the build fails');
    await this.#run(scratch, far);
  }

  async #run(scratch: Scratch, tests: readonly TestFile[]): Promise<void> {
    if (tests.length === 0) return;
    const names = tests.map(({ name }) => name);
    const run = await runTests(scratch, names, { bail: false, expected: () => UNKNOWN });
    if (run.broken !== undefined) throw new Error(`the tests cannot be run: ${run.broken}`);
    for (const { name, hash } of tests) {
      const file = run.files.find((one) => one.name === name);
      const entry = { hash, ok: file?.ok ?? false, seconds: file?.seconds ?? UNKNOWN };
      this.#known.set(name, entry);
      this.#kept.set(name, entry);
    }
  }

  seconds(test: string): number {
    return this.#known.get(test)?.seconds ?? UNKNOWN;
  }

  passes(test: TestFile): boolean {
    return this.#known.get(test.name)?.ok ?? false;
  }
}
