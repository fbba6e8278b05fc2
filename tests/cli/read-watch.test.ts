/** `read --watch`: each frame that is saved into a folder is answered once it is whole; a bad one is said and ends nothing. */
import { spawn } from 'node:child_process';
import { appendFileSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { png } from '../reading/frames/frame-bytes.ts';
import { designOf, greyOf, MIRROR } from './support/frames.ts';
import { folder } from './support/run.ts';

test('frames as they come: whole, in pieces, and bad; the readings are those of the last; it ends with the folder', async () => {
  const dir = folder();
  const saved = join(dir, 'saved');
  const out = join(dir, 'readings.yml');
  mkdirSync(saved);
  const bytes = png(greyOf(designOf(MIRROR)), 8);
  writeFileSync(join(saved, 'old.png'), bytes);
  const child = spawn(process.execPath, [
    resolve('bin/datumlight.js'),
    'read',
    MIRROR,
    '--watch',
    saved,
    '--out',
    out,
  ]);
  let [stdout, stderr] = ['', ''];
  const looks = new Set<() => void>();
  const said = (): void => {
    for (const look of looks) look();
  };
  child.stdout.on('data', (chunk) => {
    stdout += chunk;
    said();
  });
  child.stderr.on('data', (chunk) => {
    stderr += chunk;
    said();
  });
  const until = (isSo: () => boolean): Promise<void> =>
    new Promise((done) => {
      const look = (): void => {
        if (isSo()) done();
      };
      looks.add(look);
      look();
    });
  const ended = new Promise<number | null>((done) => child.on('close', done));
  await until(() => stderr.includes('1 file that is there already is left out'));

  writeFileSync(join(saved, 'first.png'), bytes);
  await until(() => stdout.includes('9 of 9 patches read'));
  expect(stdout).toMatch(/first\.png: 8-bit PNG/);
  const readings = readFileSync(out, 'utf8');
  expect(readings).toMatch(/^# from .*first\.png, 8-bit PNG$/m);

  // Half of a file is damaged for as long as it is all there is.
  writeFileSync(join(saved, 'second.png'), bytes.subarray(0, bytes.length >> 1));
  await until(() => /second\.png: is a damaged or truncated PNG/.test(stderr));
  expect(readFileSync(out, 'utf8')).toBe(readings);
  appendFileSync(join(saved, 'second.png'), bytes.subarray(bytes.length >> 1));
  await until(() => /second\.png: 8-bit PNG.*9 of 9 patches read/s.test(stdout));
  expect(readFileSync(out, 'utf8')).toMatch(/^# from .*second\.png, 8-bit PNG$/m);

  rmSync(saved, { recursive: true });
  expect(await ended).toBe(0);
  expect(stdout).not.toContain('old.png');
  expect(existsSync(out)).toBe(true);
});
