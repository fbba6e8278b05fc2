/** Files that wait beside their package: whole in it once it is written, nothing of them beside it before or after. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { writePackage } from '../../src/disk/package-folder.ts';
import { Spool } from '../../src/disk/spool.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

const PIECES = ['one ', 'two ', 'three'].map((text) => Buffer.from(text));
const HASH = createHash('sha256').update('one two three').digest('hex');

test('a file written in pieces is whole in its package, and nothing is left beside it', () => {
  const around = temporaryFolder();
  const out = join(around, 'made', 'out');
  const spool = new Spool(out);
  expect(readdirSync(around)).toEqual([]);
  const sink = spool.sink('pattern.gds');
  for (const piece of PIECES) sink(piece);
  const content = spool.content('pattern.gds', HASH);
  expect(existsSync(out)).toBe(false);
  expect(writePackage(out, new Map([['pattern.gds', content]]))).toBeUndefined();
  spool.discard();
  expect(readFileSync(join(out, 'pattern.gds'), 'utf8')).toBe('one two three');
  expect(readdirSync(join(around, 'made'))).toEqual(['out']);
});

test('a spool given up leaves neither files nor the folders made for it', () => {
  const around = temporaryFolder();
  const spool = new Spool(join(around, 'a', 'b', 'out'));
  spool.sink('pattern.oas')(PIECES[0]!);
  spool.discard();
  expect(readdirSync(around)).toEqual([]);
});

test('where a file stands in the way, the system says so and nothing is left', () => {
  const around = temporaryFolder();
  writeFileSync(join(around, 'file'), '');
  const spool = new Spool(join(around, 'file', 'out'));
  expect(() => spool.sink('pattern.gds')).toThrow(/EEXIST|ENOTDIR/);
  spool.discard();
  expect(readdirSync(around)).toEqual(['file']);
});
