/**
 * Where no command writes, through the real executable: a folder that the user works in, a name that is empty, a link that leads nowhere.
 * Exit 2, a message that names the option or the path, and nothing on the disk has changed.
 */
import { mkdirSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { type Tree, treeOf } from './support/kills-at-changes.ts';
import { datumlight, executable, folder, openScenario, soundScenario } from './support/run.ts';

const broken = (text: string): string => text.replace('centre: [60, 0]', 'centre: [2, 60]');

/**
 * The folder where the command runs: scenarios/s.yaml in it, and links. `broken.yaml` breaks a rule: where it is to be made in the root of
 * the file system, a fault of the check would write nothing either.
 */
function house(): string {
  const work = join(folder(), 'work');
  mkdirSync(join(work, 'scenarios'), { recursive: true });
  writeFileSync(join(work, 'scenarios', 's.yaml'), soundScenario());
  writeFileSync(join(work, 'scenarios', 'open.yaml'), openScenario());
  writeFileSync(join(work, 'scenarios', 'broken.yaml'), soundScenario(broken));
  symlinkSync('scenarios', join(work, 'link'));
  symlinkSync('not-there', join(work, 'dangling'));
  symlinkSync('looping', join(work, 'looping'));
  return work;
}

/** Links that lead nowhere cannot be looked into, and are listed. */
const entries = (work: string): readonly (Tree | readonly string[])[] => [
  treeOf(join(work, 'scenarios')),
  readdirSync(work, { recursive: true, encoding: 'utf8' }).sort(),
];

const S = 'scenarios/s.yaml';
const COMMANDS: Readonly<Record<string, (out: string) => readonly string[]>> = {
  make: (out) => ['make', S, '--out', out],
  fringes: (out) => ['fringes', S, '--out', out, '--patch', 'near-1', '--size', '16'],
  batch: (out) => ['batch', S, '--out', out, '--no-cache'],
  'batch --cache': (out) => ['batch', S, '--out', 'fine', '--cache', out],
  'batch --gather': (out) => ['batch', '--gather', 'scenarios/shard', '--out', out],
  'batch --overlay': (out) => ['batch', S, '--out', 'fine', '--verify', '--overlay', out],
};
const EMPTY: readonly (readonly [string, RegExp])[] = [['', /name of the folder is empty/]];
const ALL: readonly (readonly [string, RegExp])[] = [
  [' ', /name of the folder is empty/],
  ['HOME', /is your home folder/],
  ['dangling', /is a link to a folder that does not exist/],
  ['looping', /is a link to a folder that does not exist/],
];
const CASES = Object.entries(COMMANDS).flatMap(([name, args]) =>
  [...EMPTY, ...(name === 'make' ? ALL : [])].map(
    ([out, message]) => [name, out, args(out), message] as const,
  ),
);

test.each(CASES)('%s into %j', async (_, out, args, message) => {
  const work = house();
  const home = folder();
  const before = entries(work);
  const asked = args.map((one) => (one === 'HOME' ? home : one));
  // The home is asked of the environment.
  const env = { HOME: out === 'HOME' ? home : '/home/nobody' };
  const { code, stderr, stdout } = await executable(asked, { cwd: work, env });
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(message);
  expect(stderr).not.toMatch(/\n {4}at |internal error/);
  expect(entries(work)).toEqual(before);
});

test('the root of the file system is no output', async () => {
  const work = house();
  for (const root of ['/', '//', '/tmp/..']) {
    const { code, stderr } = await datumlight(['make', 'scenarios/broken.yaml', '--out', root], {
      cwd: work,
    });
    expect({ root, code }).toEqual({ root, code: 2 });
    expect(stderr).toContain(`${root} is the root of the file system`);
  }
});

test('links that lead nowhere: each command that writes leaves them as they are', async () => {
  const work = house();
  const { code } = await datumlight(['make', S, '--out', 'packages/s'], { cwd: work });
  expect(code).toBe(0);
  const before = entries(work);
  for (const [link, ...asked] of [
    ['dangling', ...COMMANDS.fringes!('dangling')],
    ['dangling', ...COMMANDS.batch!('dangling')],
    ['looping', ...COMMANDS.batch!('looping')],
    ['dangling', 'plan', 'scenarios/open.yaml', '--out', 'dangling'],
    ['looping', 'plan', 'scenarios/open.yaml', '--out', 'planned.yaml', '--reach', 'looping'],
    ['dangling', 'batch', S, '--out', 'packages', '--verify', '--markdown', 'dangling'],
  ]) {
    const outcome = await datumlight(asked, { cwd: work });
    expect({ asked, code: outcome.code }).toEqual({ asked, code: 2 });
    expect(outcome.stderr).toMatch(new RegExp(`${link}.*not-writable`));
  }
  expect(entries(work)).toEqual(before);
});
