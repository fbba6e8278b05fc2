/**
 * What a killed run left, through the real executable: the next run of any command in that folder clears it, never what a run that lives
 * is at work on; one leftover or one output that is jammed is told and stops nothing else.
 */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { expect, test } from 'vitest';
import { isRoot, noOtherUser, openForAll, withoutRights } from './support/rights-and-disks.ts';
import { executable, folder, openScenario, soundScenario } from './support/run.ts';

const HOST = hostname().replace(/[^A-Za-z0-9]/g, '') || 'host';
/** What stands aside for `name`: of a process that is over, or of this one. */
const ofKilled = (name: string, mark: string): string => `.${name}.${mark}-${HOST}-999999999-0x1xabc`;
const ofLiving = (name: string): string => {
  const started = Math.floor(performance.timeOrigin).toString(36);
  return `.${name}.new-${HOST}-${process.pid}-0x1x${started}`;
};

const COMMANDS: Readonly<Record<string, (dir: string) => readonly string[]>> = {
  make: (dir) => ['make', join(dir, 's.yaml'), '--out', join(dir, 'out', 'fresh')],
  fringes: (dir) => [
    ...[
      'fringes',
      join(dir, 's.yaml'),
      '--out',
      join(dir, 'out', 'fresh'),
      '--patch',
      'near-1',
      '--size',
      '16',
    ],
  ],
  plan: (dir) => ['plan', join(dir, 'open.yaml'), '--out', join(dir, 'out', 'fresh'), '--quiet'],
  batch: (dir) => ['batch', join(dir, 's.yaml'), '--out', join(dir, 'out'), '--no-cache'],
};

/** A folder `out` with what killed runs and a living one left in it of packages and of a planned scenario. */
function house(): string {
  const dir = folder();
  const out = join(dir, 'out');
  writeFileSync(join(dir, 's.yaml'), soundScenario());
  writeFileSync(join(dir, 'open.yaml'), openScenario());
  for (const name of [ofKilled('half', 'new'), ofKilled('moved', 'old'), ofLiving('other')]) {
    mkdirSync(join(out, name), { recursive: true });
    writeFileSync(join(out, name, 'layout.svg'), 'some');
  }
  writeFileSync(join(out, ofKilled('planned.yaml', 'new')), 'half');
  writeFileSync(join(out, ofKilled('kept.yaml', 'old')), 'older');
  writeFileSync(join(out, 'kept.yaml'), 'newer');
  return dir;
}

test.each(Object.entries(COMMANDS))('%s clears what killed runs left beside its output', async (_, args) => {
  const dir = house();
  const { code, stderr } = await executable(args(dir));
  expect(code).toBe(0);
  expect(stderr).not.toContain('not-writable');
  const names = readdirSync(join(dir, 'out'));
  // A package that was on its way out is back; of a file that has its new content, the old one is gone.
  expect(names).toEqual(expect.arrayContaining(['moved', 'kept.yaml', ofLiving('other')]));
  expect(names.filter((name) => name.startsWith('.'))).toEqual([ofLiving('other')]);
  expect(readFileSync(join(dir, 'out', 'kept.yaml'), 'utf8')).toBe('newer');
});

/** Each by a way of its own: a package, single files, a folder of packages. */
const WAYS = Object.entries(COMMANDS).filter(([name]) => name !== 'fringes');

test.skipIf(isRoot && noOtherUser()).each(WAYS)(
  '%s goes on beside a leftover that cannot be removed, and tells of it',
  async (name, args) => {
    const dir = house();
    openForAll(dir);
    for (const open of [
      join(dir, 'out'),
      ...[ofKilled('moved', 'old'), ofLiving('other')].map((one) => join(dir, 'out', one)),
    ])
      chmodSync(open, 0o777);
    const jammed = join(dir, 'out', ofKilled('half', 'new'));
    chmodSync(jammed, 0o555);
    const { code, stderr } = await withoutRights(args(dir));
    chmodSync(jammed, 0o755);
    expect({ code, stderr }).toMatchObject({ code: 0 });
    expect(stderr).toMatch(
      /half\.new.* was left by a run that was stopped and cannot be removed: .*\[warning not-writable\]/,
    );
    expect(existsSync(join(dir, 'out', name === 'batch' ? 's' : 'fresh'))).toBe(true);
    expect(existsSync(join(dir, 'out', ofKilled('planned.yaml', 'new')))).toBe(false);
  },
);

test('a package of a batch whose place is jammed is told; the others and the summary are written', async () => {
  const dir = folder();
  for (const name of ['a', 'b', 'c', 'd']) writeFileSync(join(dir, `${name}.yaml`), soundScenario());
  mkdirSync(join(dir, 'out', 'd'), { recursive: true });
  symlinkSync('not-there', join(dir, 'out', 'b'));
  writeFileSync(join(dir, 'out', 'c'), 'a file of the user’s');
  chmodSync(join(dir, 'out', 'd'), 0o000);
  const { code, stderr } = await executable(['batch', '?.yaml', '--out', 'out', '--no-cache', '--json'], {
    cwd: dir,
  });
  chmodSync(join(dir, 'out', 'd'), 0o755);
  expect(code).toBe(2);
  expect(stderr).toMatch(/b: .*\n.*link to a folder that does not exist/);
  expect(stderr).toMatch(/c: .*\n.*is a file, not a folder/);
  expect(stderr).toMatch(/d: .*\n.*EACCES/);
  const { rows } = JSON.parse(readFileSync(join(dir, 'out', 'summary.json'), 'utf8'));
  expect(rows.map(({ outcome }: { outcome: string }) => outcome)).toEqual([
    'fine',
    'unusable',
    'unusable',
    'unusable',
  ]);
  expect(existsSync(join(dir, 'out', 'a', 'manifest.json'))).toBe(true);
});

test('what a batch without a cache kept goes with the next batch there, unless a run is at work on it', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), soundScenario());
  const unfinished = join(dir, 'out', '.datumlight-unfinished');
  for (const [mark, stays] of [
    [ofKilled('run', 'new'), false],
    [ofLiving('run'), true],
  ] as const) {
    for (const cache of stays ? [['--no-cache'], ['--cache', 'cache']] : [['--cache', 'cache']]) {
      mkdirSync(unfinished, { recursive: true });
      writeFileSync(join(unfinished, mark), '');
      const args = ['batch', 's.yaml', '--out', 'out', ...cache];
      expect(await executable(args, { cwd: dir })).toMatchObject({ code: 0 });
      expect({ mark, cache, stays: existsSync(unfinished) }).toEqual({ mark, cache, stays });
    }
  }
});
