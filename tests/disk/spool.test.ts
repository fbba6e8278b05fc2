/** Output kept aside: whatever its length it comes back as it was given, and its temporary file is never left behind. */
import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { afterEach, expect, test, vi } from 'vitest';
import { Spool } from '../../src/disk/spool.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

afterEach(() => void vi.unstubAllEnvs());

test.each([
  ['in memory', 1e6],
  ['in a file', 100],
])('%s: all that was added comes back, in its order', (_, mostInMemory) => {
  const folder = temporaryFolder();
  vi.stubEnv('TMPDIR', folder);
  expect(tmpdir()).toBe(folder);
  const spool = new Spool(mostInMemory);
  let given = '';
  for (let k = 0; k < 20_000; k++) {
    const text = `${k} µm, ${'x'.repeat(k % 17)}\n`;
    spool.add(text);
    given += text;
  }
  expect(readdirSync(folder)).toEqual([]);
  expect(Buffer.concat([...spool.pieces()]).toString()).toBe(given);
  spool.close();
  expect([...spool.pieces()]).toEqual([]);
});

test('a temporary folder that is not there is told', () => {
  const folder = temporaryFolder();
  vi.stubEnv('TMPDIR', `${folder}/nowhere`);
  expect(() => new Spool(10).add('more than ten characters')).toThrow(/ENOENT/);
});
