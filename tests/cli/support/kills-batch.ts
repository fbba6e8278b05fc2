/**
 * Batches and gatherings killed at random moments. A batch goes on where it was; a gathering starts anew. At any moment each package is whole,
 * the one before or the one asked for.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { Durations, run } from './kills.ts';
import { treeOf } from './kills-at-changes.ts';
import { executable, folder, soundScenario } from './run.ts';
import { wholePackage } from './whole-package.ts';

export interface BatchKills {
  /** Killed before their end. */
  readonly killed: number;
  /** Runs to the end that found something done by killed ones. */
  readonly resumed: number;
  /** Runs to the end. */
  readonly rounds: number;
}

const SCENARIOS = 8;
/** Kills before a batch may come to its end. */
const KILLS_A_ROUND = 4;
/** Rounds after which it is measured again how long an undisturbed batch takes. */
const MEASURED_EVERY = 4;

/** A batch of a few scenarios, killed again and again, then run to its end; with a cache and without one by turns. */
export async function batchKilledAtRandom(count: number, seed: string): Promise<BatchKills> {
  const random = randomFrom(`batch kills ${seed}`);
  const dir = folder();
  const [out, cache] = [join(dir, 'out'), join(dir, 'cache')];
  const names = Array.from({ length: SCENARIOS }, (_, k) => `s${k}`);
  const titleOf = (name: string, round: number): string => `${name} in round ${round}.`;
  const write = (round: number): void => {
    for (const name of names) {
      const text = soundScenario().replace('title: Sound', `title: ${titleOf(name, round)}`);
      writeFileSync(join(dir, `${name}.yaml`), text);
    }
  };
  const argsFor = (where: string, ...cached: readonly string[]): readonly string[] => [
    ...['batch', ...names.map((name) => join(dir, `${name}.yaml`)), '--out', where, '--jobs', '2', ...cached],
  ];
  const made = (round: number): readonly boolean[] => names.map((name) => madeIn(out, name, round, titleOf));
  const met = { killed: 0, resumed: 0, rounds: 0 };
  write(0);
  expect((await run(argsFor(out, '--no-cache'), dir, UNMARKED)).code).toBe(0);
  let took = 0;
  for (let kills = 0, round = 1; kills < count; round++) {
    write(round);
    const withCache = round % 2 === 1;
    const args = argsFor(out, ...(withCache ? ['--cache', cache] : ['--no-cache']));
    if (round % MEASURED_EVERY === 1) {
      took = (await run(argsFor(join(dir, 'timed'), '--no-cache'), dir, UNMARKED)).ended;
    }
    for (let k = 0; k < KILLS_A_ROUND && kills < count; k++, kills++) {
      const killing = { moment: 'at large', delay: took * random.uniform() } as const;
      if ((await run(args, dir, UNMARKED, killing)).code === null) met.killed++;
      made(round);
    }
    const done = made(round).filter(Boolean).length;
    const { code, stdout } = await executable([...args, '--json']);
    const report = JSON.parse(stdout) as { made: number; cached: number };
    expect(code).toBe(0);
    expect(report.made + report.cached).toBe(SCENARIOS);
    // Kept before it was put in its place; without a cache only until all is done.
    if (withCache || done < SCENARIOS) expect(report.cached).toBeGreaterThanOrEqual(done);
    if (report.cached > 0) met.resumed++;
    met.rounds++;
    expect(made(round)).toEqual(names.map(() => true));
    expect(readdirSync(out).sort()).toEqual(['overview.html', ...names, 'summary.csv', 'summary.json']);
    if (withCache) expect(readdirSync(cache).filter((name) => name.startsWith('.'))).toEqual([]);
  }
  return met;
}

const UNMARKED = { aside: /^(?!)/, swapped: /^(?!)/ };

/** Whether the package is this round's; whole and of the round before if not. A swap that was cut in two has left the old one aside. */
function madeIn(
  out: string,
  name: string,
  round: number,
  titleOf: (name: string, round: number) => string,
): boolean {
  if (wholePackage(join(out, name)) === 'absent') {
    const old = readdirSync(out).find((aside) => aside.startsWith(`.${name}.old-`));
    wholePackage(join(out, old!));
    return false;
  }
  const drawing = readFileSync(join(out, name, 'layout.svg'), 'utf8');
  const of = [round, round - 1].find((one) => drawing.includes(titleOf(name, one)));
  expect(of).toBeDefined();
  return of === round;
}

export interface GatherKills {
  /** Killed before their end. */
  readonly killed: number;
  /** Of them, those that left packages of both, the ones before and the ones asked for. */
  readonly mixed: number;
}

const WHOLE_EVERY = 5;

/** Two batches' shards gathered into one folder by turns, `count` times killed. */
export async function gatherKilledAtRandom(count: number, seed: string): Promise<GatherKills> {
  const random = randomFrom(`gather kills ${seed}`);
  const dir = folder();
  const out = join(dir, 'out');
  const titles = ['Alder', 'Birch'];
  const names = Array.from({ length: SCENARIOS }, (_, k) => `s${k}`);
  const shardsOf = (title: string): readonly string[] => [1, 2].map((k) => join(dir, title, String(k)));
  const argsFor = (title: string): readonly string[] => [
    ...['batch', '--gather', ...shardsOf(title), '--out', out, '--quiet'],
  ];
  const durations = new Durations();
  const undisturbed = async (title: string): Promise<void> => {
    const done = await run(argsFor(title), dir, UNMARKED);
    expect(done.code).toBe(0);
    durations.add(done);
  };
  const expected: Record<string, ReturnType<typeof treeOf>> = {};
  for (const title of titles) {
    for (const name of names) {
      writeFileSync(join(dir, `${name}.yaml`), soundScenario().replace('title: Sound', `title: ${title}.`));
    }
    for (const [k, shard] of shardsOf(title).entries()) {
      const files = names.map((name) => join(dir, `${name}.yaml`));
      const argv = ['batch', ...files, '--out', shard, '--no-cache', '--shard', `${k + 1}/2`];
      expect(await executable(argv)).toMatchObject({ code: 0 });
    }
    await undisturbed(title);
    expected[title] = treeOf(out);
  }
  const met = { killed: 0, mixed: 0 };
  for (let turn = 0; turn < count; turn++) {
    const asked = titles[turn % 2]!;
    const killing = { moment: 'at large', delay: durations.delay('at large', random.uniform()) } as const;
    if ((await run(argsFor(asked), dir, UNMARKED, killing)).code === null) met.killed++;
    const found = new Set(names.map((name) => packageOf(out, name, titles)));
    if (found.size > 1) met.mixed++;
    // Each file of the batch as a whole is one of the two, whole.
    for (const name of ['summary.csv', 'summary.json', 'overview.html']) {
      const text = readFileSync(join(out, name), 'latin1');
      expect(titles.some((title) => expected[title]![name] === text)).toBe(true);
    }
    if (turn % WHOLE_EVERY !== WHOLE_EVERY - 1) continue;
    await undisturbed(asked);
    expect(treeOf(out)).toEqual(expected[asked]);
  }
  return met;
}

/** The title of the package of that name, a whole one; aside where its swap was cut in two. */
function packageOf(out: string, name: string, titles: readonly string[]): string {
  const place = existsSync(join(out, name))
    ? name
    : readdirSync(out).find((aside) => aside.startsWith(`.${name}.old-`))!;
  expect(wholePackage(join(out, place))).not.toBe('absent');
  const drawing = readFileSync(join(out, place, 'layout.svg'), 'utf8');
  const title = titles.find((one) => drawing.includes(`${one}.`));
  expect(title).toBeDefined();
  return title!;
}
