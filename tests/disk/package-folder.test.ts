/** Packages put in place: whole, over old ones, beside the user's files, and after a run that was killed at any step. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { clearLeftovers } from '../../src/disk/leftovers.ts';
import { writePackage } from '../../src/disk/package-folder.ts';
import { manifestJson, type PackageFiles } from '../../src/writing/manifest.ts';
import { temporaryFolder as newFolder } from '../machine/temporary-folder.ts';

const HEAD = { version: '0', scenarioHash: '0', draft: false };

/** A package of two files, one of a name of its own. */
function packageOf(word: string, extra = `${word}.txt`): PackageFiles {
  const files = new Map([
    ['layout.svg', `layout ${word}`],
    [extra, word],
  ]);
  return files.set('manifest.json', manifestJson(files, HEAD));
}
const contents = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder, { withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ name }) => [name, readFileSync(join(folder, name), 'utf8')]),
  );
const asRecord = (files: PackageFiles): Record<string, string> =>
  Object.fromEntries(files) as Record<string, string>;

/** A name as that of a process that is over. */
const abandoned = (target: string, mark: 'new' | 'old'): string => {
  const host = hostname().replace(/[^A-Za-z0-9]/g, '') || 'host';
  return join(dirname(target), `.${basename(target)}.${mark}-${host}-999999999-0x1xabc`);
};

test('a new package takes the old one’s place: old files go, the user’s stay, the folder keeps its mode', () => {
  const out = join(newFolder(), 'out');
  expect(writePackage(out, packageOf('old'))).toBeUndefined();
  writeFileSync(join(out, 'notes.txt'), 'mine');
  chmodSync(out, 0o750);
  const inode = statSync(join(out, 'notes.txt')).ino;
  expect(writePackage(out, packageOf('new'))).toBeUndefined();
  expect(contents(out)).toEqual({ ...asRecord(packageOf('new')), 'notes.txt': 'mine' });
  expect(statSync(join(out, 'notes.txt')).ino).toBe(inode);
  expect(statSync(out).mode & 0o777).toBe(0o750);
  expect(readdirSync(dirname(out))).toEqual(['out']);
});

test('a folder that holds folders of the user’s stays where it is', () => {
  const out = join(newFolder(), 'out');
  writePackage(out, packageOf('old'));
  mkdirSync(join(out, 'photos'));
  writeFileSync(join(out, 'photos', 'one.txt'), 'mine');
  const inode = statSync(out).ino;
  expect(writePackage(out, packageOf('new'))).toBeUndefined();
  expect(contents(out)).toEqual(asRecord(packageOf('new')));
  expect(statSync(out).ino).toBe(inode);
  expect(readdirSync(out).sort()).toEqual(['layout.svg', 'manifest.json', 'new.txt', 'photos']);
});

test('a link to a folder stays a link', () => {
  const folder = newFolder();
  mkdirSync(join(folder, 'real'));
  symlinkSync('real', join(folder, 'link'));
  writePackage(join(folder, 'link'), packageOf('old'));
  expect(writePackage(join(folder, 'link'), packageOf('new'))).toBeUndefined();
  expect(contents(join(folder, 'real'))).toEqual(asRecord(packageOf('new')));
  expect(readdirSync(folder).sort()).toEqual(['link', 'real']);
});

test.each([
  ['a link to a folder that does not exist', 'nowhere'],
  ['a link to itself', 'link'],
])('%s is refused and left as it is, however often', (_, leads) => {
  const dir = newFolder();
  const link = join(dir, 'link');
  symlinkSync(join(dir, leads), link);
  for (let run = 0; run < 2; run++)
    expect(writePackage(link, packageOf('a'))?.message).toMatch(/is a link to a folder that does not exist/);
  expect(readlinkSync(link)).toBe(join(dir, leads));
  expect(readdirSync(dir)).toEqual(['link']);
});

test('a manifest that names files elsewhere makes no claim on them', () => {
  const folder = newFolder();
  const out = join(folder, 'out');
  mkdirSync(out);
  writeFileSync(join(folder, 'precious.txt'), 'mine');
  writeFileSync(join(out, 'manifest.json'), manifestJson(new Map([['../precious.txt', 'mine']]), HEAD));
  const finding = writePackage(out, packageOf('new'));
  expect(finding?.message).toContain('manifest.json already exists and was not written by datumlight');
  expect(readFileSync(join(folder, 'precious.txt'), 'utf8')).toBe('mine');
});

test('killed between the two renames: the next run puts the old package back, then goes on', () => {
  const out = join(newFolder(), 'out');
  writePackage(out, packageOf('old'));
  writeFileSync(join(out, 'notes.txt'), 'mine');
  renameSync(out, abandoned(out, 'old'));
  writePackage(abandoned(out, 'new'), packageOf('half'));
  clearLeftovers(dirname(out));
  expect(contents(out)).toEqual({ ...asRecord(packageOf('old')), 'notes.txt': 'mine' });
  expect(readdirSync(dirname(out))).toEqual(['out']);
});

test('killed after the two renames: the old package goes, the user’s files in it come along', () => {
  const out = join(newFolder(), 'out');
  writePackage(out, packageOf('old'));
  writeFileSync(join(out, 'notes.txt'), 'mine');
  renameSync(out, abandoned(out, 'old'));
  writePackage(out, packageOf('new'));
  expect(contents(out)).toEqual({ ...asRecord(packageOf('new')), 'notes.txt': 'mine' });
  expect(readdirSync(dirname(out))).toEqual(['out']);
});

test('killed while files were renamed one by one: the next run finishes', () => {
  const out = join(newFolder(), 'out');
  writePackage(out, packageOf('old'));
  mkdirSync(join(out, 'photos'));
  writePackage(join(out, '.datumlight-new'), packageOf('between'));
  renameSync(join(out, '.datumlight-new', 'layout.svg'), join(out, 'layout.svg'));
  // A run whose own package is refused finishes what was begun all the same.
  writeFileSync(join(out, 'taken.txt'), 'mine');
  expect(writePackage(out, packageOf('new', 'taken.txt'))?.rule).toBe('not-writable');
  expect(contents(out)).toEqual({ ...asRecord(packageOf('between')), 'taken.txt': 'mine' });
  expect(existsSync(join(out, '.datumlight-new'))).toBe(false);
});

/** As of this test's parent, which runs; started at that time, ms since 1970. */
const ofParent = (target: string, started: number): string =>
  abandoned(target, 'new').replace('-999999999-0x1xabc', `-${process.ppid}-0x1x${started.toString(36)}`);

test('what a running process has aside is left alone', () => {
  const out = join(newFolder(), 'out');
  const theirs = ofParent(out, Date.now());
  mkdirSync(theirs);
  writePackage(out, packageOf('new'));
  expect(existsSync(theirs)).toBe(true);
});

test.skipIf(!existsSync('/proc/self/stat'))(
  'a number that another process has by now does not keep it',
  () => {
    const out = join(newFolder(), 'out');
    const theirs = ofParent(out, Date.now() - 365 * 24 * 3600 * 1000);
    mkdirSync(theirs);
    writePackage(out, packageOf('new'));
    expect(readdirSync(dirname(out))).toEqual(['out']);
  },
);
