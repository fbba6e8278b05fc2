/** Goes through the mutants, some at a time, and keeps what came of each: what nothing has changed about is not tried again. */
import { createHash } from 'node:crypto';
import type { Baseline } from './baseline.ts';
import { Kept } from './kept.ts';
import type { Named } from './lists.ts';
import { inWords, type Result } from './report.ts';
import type { Scratch } from './scratch.ts';
import type { Mutant } from './sites.ts';
import { hashOf, type TestFile, testsOf } from './tests-of.ts';
import { type Outcome, tryFar, tryNear } from './trial.ts';

interface Setting {
  readonly scratches: readonly Scratch[];
  readonly tests: readonly TestFile[];
  readonly baseline: Baseline;
  /** By id: those are tried against their own test only. */
  readonly named: ReadonlyMap<string, Named>;
  /** Reasons by key. */
  readonly equivalent: ReadonlyMap<string, string>;
  readonly say: (words: string) => void;
}

interface KeptOutcome extends Outcome {
  readonly seconds: number;
  readonly hash: string;
}

export async function tryAll(mutants: readonly Mutant[], setting: Setting): Promise<readonly Result[]> {
  const { scratches, baseline, equivalent, say } = setting;
  const kept = new Kept<KeptOutcome>('out/mutants/results.json');
  const before = kept.all();
  const results = new Map<Mutant, Result>();
  const left: Mutant[] = [];
  for (const mutant of mutants) {
    const reason = equivalent.get(mutant.key);
    const known = before[mutant.key];
    if (reason !== undefined) results.set(mutant, { mutant, status: 'equivalent', reason, seconds: 0 });
    else if (known !== undefined && known.hash === standing(mutant, known, setting)) {
      const { hash: _, ...outcome } = known;
      results.set(mutant, { mutant, ...outcome });
    } else left.push(mutant);
  }
  if (results.size > 0) say(`${results.size} of ${mutants.length} are known`);
  if (left.length > 0) {
    const needed = new Set(left.flatMap((mutant) => Object.values(candidates(mutant, setting)).flat()));
    await baseline.prepare(scratches[0], [...needed], say);
    for (const test of needed)
      if (!baseline.passes(test)) say(`${test.name} fails without a mutant: left out`);
  }
  const keep = (mutant: Mutant, outcome: Outcome, seconds: number): void => {
    kept.set(mutant.key, { hash: standing(mutant, outcome, setting), ...outcome, seconds });
    results.set(mutant, { mutant, ...outcome, seconds });
    const by = outcome.by === undefined ? '' : ` by ${outcome.by}${outcome.test ? `: ${outcome.test}` : ''}`;
    say(
      `${results.size} of ${mutants.length}: ${outcome.status}${by}, ${seconds.toFixed(0)} s: ${inWords(mutant)}`,
    );
  };
  // First all of what needs no build, so that most are told of soon.
  const leftOver: { readonly mutant: Mutant; readonly seconds: number }[] = [];
  await inParallel(scratches, left, async (scratch, mutant) => {
    const begun = performance.now();
    const outcome = await tryNear(mutant, scratch, candidates(mutant, setting), baseline);
    const seconds = (performance.now() - begun) / 1000;
    if (outcome !== undefined) keep(mutant, outcome, seconds);
    else {
      leftOver.push({ mutant, seconds });
      say(`passes what needs no build, ${seconds.toFixed(0)} s: ${inWords(mutant)}`);
    }
  });
  await inParallel(scratches, leftOver, async (scratch, { mutant, seconds }) => {
    const begun = performance.now();
    const outcome = await tryFar(mutant, scratch, candidates(mutant, setting), baseline);
    keep(mutant, outcome ?? { status: 'survived' }, seconds + (performance.now() - begun) / 1000);
  });
  return mutants.map((mutant) => {
    const result = results.get(mutant)!;
    const fault = namedOf(mutant, setting)?.fault;
    return fault === undefined ? result : { ...result, reason: fault };
  });
}

/** Each scratch copy takes the next of what is left. */
async function inParallel<T>(
  scratches: readonly Scratch[],
  all: readonly T[],
  work: (scratch: Scratch, one: T) => Promise<void>,
): Promise<void> {
  const left = [...all];
  await Promise.all(
    scratches.map(async (scratch) => {
      for (let one = left.shift(); one !== undefined; one = left.shift()) await work(scratch, one);
    }),
  );
}

const namedOf = ({ key }: Mutant, { named }: Setting): Named | undefined =>
  key.startsWith('named | ') ? named.get(key.split(' | ')[1]) : undefined;

/** The tests that a mutant is tried against. */
function candidates(mutant: Mutant, setting: Setting): ReturnType<typeof testsOf> {
  const { tests, baseline } = setting;
  const named = namedOf(mutant, setting);
  const some = named === undefined ? tests : tests.filter(({ name }) => name === named.caughtBy);
  return testsOf(mutant.file, some, ({ name }) => baseline.seconds(name));
}

/** What an outcome stands on: the mutated file with the test that failed, or with all that could have. */
function standing(mutant: Mutant, { by }: Outcome, setting: Setting): string {
  const { near, far } = candidates(mutant, setting);
  const all = [...near, ...far];
  const failed = all.filter(({ name }) => name === by);
  const own = (failed.length > 0 ? failed : all).map(({ name, ownHash }) => `${name} ${ownHash}`).sort();
  return `${hashOf([mutant.file])} ${textHash(own.join('\n'))}`;
}

const textHash = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 16);
