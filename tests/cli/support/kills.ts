/**
 * Kills a run at random moments, and looks at what stands there: packages here, plans and batches beside.
 *
 * A moment drawn over the run's whole duration nearly always falls into the working out: the files are written in its last hundredth.
 * So the moments are of three kinds, each tied to what is seen of the very run that is killed, and only their delays to durations,
 * which are measured again and again, since the machine's load changes:
 * - at large: anywhere from the start to the end;
 * - writing: after the new package begins to appear aside, over the time that its writing takes;
 * - swapped: after the package has taken its place, over the time that clearing up takes.
 */
import { spawn } from 'node:child_process';
import { existsSync, type FSWatcher, readdirSync, readFileSync, watch, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { expect } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { folder, soundScenario } from './run.ts';
import { sha256, wholePackage } from './whole-package.ts';

export type Moment = 'at large' | 'writing' | 'swapped';

/** When the marks of a run came, ms after its start; Infinity for what never came. */
export interface Marks {
  readonly aside: number;
  readonly swapped: number;
  readonly ended: number;
}

interface Killing {
  readonly moment: Moment;
  /** From the start or from the mark, ms. */
  readonly delay: number;
}

/** Runs the executable to its end or to its killing; the marks are names that appear in `around`. */
export function run(
  args: readonly string[],
  around: string,
  marks: { readonly aside: RegExp; readonly swapped: RegExp },
  killing?: Killing,
): Promise<Marks & { readonly code: number | null }> {
  const started = performance.now();
  const since = (): number => performance.now() - started;
  let [aside, swapped] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let timer: NodeJS.Timeout | undefined;
  // What killed runs left is cleared up first, and a package that they left aside put back: no mark of this run's own writing.
  const left = new Set(readdirSync(around));
  const seen: FSWatcher = watch(around, (_, name) => {
    if (name === null) return;
    if (marks.aside.test(name) && !left.has(name) && aside === Number.POSITIVE_INFINITY) {
      aside = since();
      if (killing?.moment === 'writing') kill(killing.delay);
    } else if (marks.swapped.test(name) && aside < swapped && swapped === Number.POSITIVE_INFINITY) {
      swapped = since();
      if (killing?.moment === 'swapped') kill(killing.delay);
    }
  });
  const child = spawn(process.execPath, [resolve('bin/datumlight.js'), ...args], {
    stdio: 'ignore',
    env: { ...process.env, XDG_CACHE_HOME: around },
  });
  const kill = (delay: number): void => {
    timer = setTimeout(() => child.kill('SIGKILL'), delay);
  };
  if (killing?.moment === 'at large') kill(killing.delay);
  return new Promise((done, fail) => {
    child.on('error', fail);
    child.on('exit', (code) => {
      clearTimeout(timer);
      seen.close();
      done({ code, aside, swapped, ended: since() });
    });
  });
}

const middle = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1]!;

/** The last few undisturbed runs: one in so many turns is one. */
const UNDISTURBED_EVERY = 10;
const REMEMBERED = 3;

export class Durations {
  readonly #runs: Marks[] = [];

  add(run: Marks): void {
    this.#runs.push(run);
  }

  /** A delay for a killing at that kind of moment; `part` from 0 to 1. */
  delay(moment: Moment, part: number): number {
    const spans = this.#runs.slice(-REMEMBERED).map(({ aside, swapped, ended }) => {
      if (moment === 'at large') return ended;
      return moment === 'writing' ? swapped - aside : ended - swapped;
    });
    return part * middle(spans);
  }
}

export interface Kills {
  /** Ends met, of those that were killed. */
  readonly old: number;
  readonly fresh: number;
  /** Killed between the two renames of a swap: the old package stands aside. */
  readonly between: number;
  /** Killed while the new package was being written aside. */
  readonly halfWritten: number;
  /** Runs that had ended before their kill came. */
  readonly tooLate: number;
}

const MOMENTS: readonly Moment[] = ['at large', 'writing', 'writing', 'at large', 'swapped'];

/** A command that writes a package, after its scenario and folder. */
export const PACKAGES = {
  make: (scenario: string, out: string) => ['make', scenario, '--out', out, '--quiet'],
  fringes: (scenario: string, out: string) => ['fringes', scenario, '--out', out, '--quiet', '--size', '64'],
} as const;

/** A package over another that stands there, `count` times killed; the user's notes stand in the folder. */
export async function packageKilledAtRandom(
  command: keyof typeof PACKAGES,
  count: number,
  seed: string,
): Promise<Kills> {
  const random = randomFrom(`kills of ${command}, ${seed}`);
  const dir = folder();
  const [out, scenario] = [join(dir, 'out'), join(dir, 's.yaml')];
  const args = PACKAGES[command](scenario, out);
  const marks = { aside: /^\.out\.new-/, swapped: /^out$/ };
  const durations = new Durations();
  /** Another scenario each turn, so that its package is known from all that came before. Returns its SHA-256. */
  const write = (turn: number): string => {
    const text = soundScenario().replace('title: Sound', `title: Turn ${turn}`);
    writeFileSync(scenario, text);
    return sha256(text);
  };
  const undisturbed = async (): Promise<string> => {
    const done = await run(args, dir, marks);
    expect(done.code).toBe(0);
    durations.add(done);
    expect(readdirSync(dir).sort()).toEqual(['out', 's.yaml']);
    return scenarioOf(out, existsSync(join(out, 'notes.txt')) ? ['notes.txt'] : []);
  };
  const first = write(0);
  await undisturbed();
  writeFileSync(join(out, 'notes.txt'), 'mine');
  // Only now does a run have a package to swap with and a file of the user's to carry over.
  for (let k = 0; k < REMEMBERED; k++) expect(await undisturbed()).toBe(first);
  const met = { old: 0, fresh: 0, between: 0, halfWritten: 0, tooLate: 0 };
  let before = first;
  const left = new Set<string>();
  for (let turn = 1; turn <= count; turn++) {
    const asked = write(turn);
    const moment = MOMENTS[turn % MOMENTS.length]!;
    const { code } = await run(args, dir, marks, {
      moment,
      delay: durations.delay(moment, random.uniform()),
    });
    const asides = readdirSync(dir).filter((name) => name.startsWith('.out.'));
    if (code !== null) met.tooLate++;
    if (!existsSync(out)) {
      const old = asides.find((name) => name.startsWith('.out.old-'));
      expect(scenarioOf(join(dir, old!), ['notes.txt'])).toBe(before);
      met.between++;
    } else {
      const found = scenarioOf(out, ['notes.txt']);
      expect([before, asked]).toContain(found);
      if (code === null) met[found === asked ? 'fresh' : 'old']++;
      else expect(found, `turn ${turn}, ended with ${code}`).toBe(asked);
      if (asides.some((name) => name.startsWith('.out.new-') && !left.has(name))) met.halfWritten++;
      // The mark is seen after the swap only, or never.
      if (moment === 'swapped') expect(found, `turn ${turn}, killed after the swap`).toBe(asked);
      before = found;
      expect(readFileSync(join(out, 'notes.txt'), 'utf8')).toBe('mine');
    }
    for (const name of asides) left.add(name);
    if (turn % UNDISTURBED_EVERY === 0) {
      before = await undisturbed();
      expect(before, `turn ${turn}, undisturbed`).toBe(asked);
    }
  }
  return met;
}

/** The SHA-256 of the scenario whose package, a whole one, stands there. */
function scenarioOf(out: string, users: readonly string[]): string {
  expect(wholePackage(out, users)).not.toBe('absent');
  return JSON.parse(readFileSync(join(out, 'manifest.json'), 'utf8')).scenario.sha256;
}
