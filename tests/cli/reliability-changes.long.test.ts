/**
 * Each command that writes, struck at each change that it makes on the disk: killed before it or half through it, or told no. What a
 * user put there stays, a package is whole or not there, and the next run leaves what an undisturbed one does.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  expectMine,
  type Job,
  killedAtEachChange,
  placeMine,
  type Ready,
  ready,
  refusedAtEachChange,
} from './support/kills-at-changes.ts';
import { datumlight, openScenario, soundScenario } from './support/run.ts';
import { wholePackage } from './support/whole-package.ts';

const FRINGES = ['fringes', 's.yaml', '--out', 'out', '--patch', 'near-1', '--size', '16'];
const OLD = soundScenario();
const NEW = OLD.replace('Sound', 'Changed').replace('[60, 0]', '[61, 0]');
const write = (dir: string, name: string, text: string): void => writeFileSync(join(dir, name), text);
const run = async (dir: string, ...args: readonly string[]): Promise<void> => {
  expect(await datumlight(args, { cwd: dir, env: { XDG_CACHE_HOME: join(dir, 'cache') } })).toMatchObject({
    code: 0,
  });
};

/** Whole in its place, or, its swap cut in two, whole aside. */
function wholeSomewhere(around: string, name: string, ...users: readonly string[]): void {
  const aside = existsSync(join(around, name))
    ? name
    : readdirSync(around).find((one) => one.startsWith(`.${name}.old-`));
  wholePackage(join(around, aside!), users);
  for (const user of users) expectMine(around, aside!, user);
}

const overAnother = (args: readonly string[]): Job => ({
  args,
  prepare: async (dir) => {
    write(dir, 's.yaml', OLD);
    await run(dir, ...args);
    placeMine(dir, 'out', 'notes.txt');
    write(dir, 's.yaml', NEW);
  },
  always: (dir) => wholeSomewhere(dir, 'out', 'notes.txt'),
});

const batch = (thread: 'main' | 'worker', ...cached: readonly string[]): Job => {
  const args = ['batch', 'a.yaml', 'b.yaml', '--out', 'out', '--jobs', '1', ...cached];
  return {
    thread,
    args,
    prepare: async (dir) => {
      for (const name of ['a', 'b']) write(dir, `${name}.yaml`, OLD);
      await run(dir, ...args);
      placeMine(dir, 'out', 'notes.txt');
      placeMine(dir, 'out', 'a', 'notes.txt');
      for (const name of ['a', 'b']) write(dir, `${name}.yaml`, NEW);
    },
    always: (dir) => {
      expectMine(dir, 'out', 'notes.txt');
      wholeSomewhere(join(dir, 'out'), 'a', 'notes.txt');
      wholeSomewhere(join(dir, 'out'), 'b');
      for (const name of ['summary.csv', 'summary.json', 'contact.html']) {
        expect(readFileSync(join(dir, 'out', name), 'utf8')).toMatch(
          /^index,.*\n$|^\{.*\n\}\n$|<\/html>\n$/s,
        );
      }
    },
  };
};

const JOBS: Record<string, Job> = {
  'make, where there is nothing': {
    args: ['make', 's.yaml', '--out', 'below/out'],
    prepare: async (dir) => write(dir, 's.yaml', NEW),
    always: (dir) => {
      wholePackage(join(dir, 'below', 'out'));
    },
  },
  'make over another package': overAnother(['make', 's.yaml', '--out', 'out']),
  'make into a folder that stays': {
    args: ['make', 's.yaml', '--out', 'out'],
    prepare: async (dir) => {
      write(dir, 's.yaml', OLD);
      await run(dir, 'make', 's.yaml', '--out', 'out');
      mkdirSync(join(dir, 'out', 'photos'));
      placeMine(dir, 'out', 'photos', 'one.txt');
      placeMine(dir, 'out', 'notes.txt');
      write(dir, 's.yaml', NEW);
    },
    always: (dir) => {
      expectMine(dir, 'out', 'photos', 'one.txt');
      expectMine(dir, 'out', 'notes.txt');
      // Where one file after the other takes its place, the rest waits in a folder that says so.
      const there = readdirSync(join(dir, 'out'));
      if (!there.includes('.datumlight-new')) {
        const asides = there.filter((name) => name.startsWith('.'));
        wholePackage(join(dir, 'out'), ['photos', 'notes.txt', ...asides]);
      }
    },
  },
  'fringes over others': overAnother(FRINGES),
  'plan over another': {
    args: ['plan', 'open.yaml', '--out', 'planned.yaml', '--reach', 'reach.svg', '--quiet'],
    prepare: async (dir) => {
      write(dir, 'open.yaml', openScenario());
      write(dir, 'planned.yaml', 'old');
      write(dir, 'reach.svg', 'old');
    },
    always: (dir) => {
      expect(readFileSync(join(dir, 'planned.yaml'), 'utf8')).toMatch(/^old$|^format: .*# plan: centre\n$/s);
      expect(readFileSync(join(dir, 'reach.svg'), 'utf8')).toMatch(/^old$|^<.*<\/svg>\n$/s);
    },
  },
  'batch, its main thread': batch('main', '--no-cache'),
  'batch, its workers': batch('worker', '--no-cache'),
  'batch with a cache, its workers': batch('worker'),
};

describe.each(Object.entries(JOBS))('%s', (name, job) => {
  let prepared: Promise<Ready>;
  const once = (): Promise<Ready> => {
    prepared ??= ready(job);
    return prepared;
  };

  test('killed at each change', async () => {
    const made = await once();
    console.log(`${name}: ${made.changes} changes`);
    expect(made.changes).toBeGreaterThan(name.startsWith('plan') ? 3 : 10);
    await killedAtEachChange(made);
  }, 1_200_000);

  // A batch writes its packages as make does: a full disk stands for the rest.
  const faults = name.startsWith('batch') ? (['ENOSPC'] as const) : (['ENOSPC', 'EROFS', 'EIO'] as const);
  test.each(faults)(
    'told %s at each change',
    async (fault) => {
      const { refused } = await refusedAtEachChange(await once(), fault);
      // The first change of all is never one to go without, nor is a file of the package.
      expect(refused).toBeGreaterThan(name.startsWith('plan') ? 1 : 5);
    },
    1_200_000,
  );
});
