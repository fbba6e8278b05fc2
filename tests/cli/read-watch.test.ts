/** `read --watch`: each frame that is saved into a folder, or saved over another, is answered once it is whole; a bad one is said and ends nothing. */
import { spawn } from 'node:child_process';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { png } from '../reading/frames/frame-bytes.ts';
import { designOf, greyOf, mirror } from './support/frames.ts';
import { folder } from './support/run.ts';

/** A folder that `read` watches, what it says so far, and the code with which it ends. */
function watching(standing: Readonly<Record<string, Uint8Array>> = {}) {
  const dir = folder();
  const saved = join(dir, 'saved');
  const out = join(dir, 'readings.yml');
  mkdirSync(saved);
  for (const [name, bytes] of Object.entries(standing)) writeFileSync(join(saved, name), bytes);
  const args = ['read', mirror(), '--watch', saved, '--out', out];
  const child = spawn(process.execPath, [resolve('bin/datumlight.js'), ...args]);
  const said = { stdout: '', stderr: '' };
  const looks = new Set<() => void>();
  for (const stream of ['stdout', 'stderr'] as const) {
    child[stream].on('data', (chunk) => {
      said[stream] += chunk;
      for (const look of looks) look();
    });
  }
  const until = (isSo: () => boolean): Promise<void> =>
    new Promise((done) => {
      const look = (): void => {
        if (isSo()) done();
      };
      looks.add(look);
      look();
    });
  const ended = new Promise<number | null>((done) => child.on('close', done));
  return { saved, out, child, said, until, ended };
}

let bytes: Uint8Array;
beforeAll(() => {
  bytes = png(greyOf(designOf(mirror())), 8);
});

test('frames as they come: whole, in pieces, and bad; the readings are those of the last; it ends with the folder', async () => {
  const { saved, out, said, until, ended } = watching({ 'old.png': bytes });
  await until(() => said.stderr.includes('1 file that is there already is left out'));

  writeFileSync(join(saved, 'first.png'), bytes);
  await until(() => said.stdout.includes('9 of 9 patches read'));
  expect(said.stdout).toMatch(/first\.png: 8-bit PNG/);
  const readings = readFileSync(out, 'utf8');
  expect(readings).toMatch(/^# from .*first\.png, 8-bit PNG$/m);

  // Half of a file is damaged for as long as it is all there is.
  writeFileSync(join(saved, 'second.png'), bytes.subarray(0, bytes.length >> 1));
  await until(() => /second\.png: is a damaged or truncated PNG/.test(said.stderr));
  expect(readFileSync(out, 'utf8')).toBe(readings);
  appendFileSync(join(saved, 'second.png'), bytes.subarray(bytes.length >> 1));
  await until(() => /second\.png: 8-bit PNG.*9 of 9 patches read/s.test(said.stdout));
  expect(readFileSync(out, 'utf8')).toMatch(/^# from .*second\.png, 8-bit PNG$/m);

  rmSync(saved, { recursive: true });
  expect(await ended).toBe(0);
  expect(said.stdout).not.toContain('old.png');
  expect(existsSync(out)).toBe(true);
});

test('a file that is no picture, one saved over another, and an interrupt: each is answered, and the code is that of the last frame', async () => {
  const { saved, out, child, said, until, ended } = watching();
  await until(() => said.stderr.includes(`watching ${saved}`));

  writeFileSync(join(saved, 'notes.txt'), 'exposure 3 ms\n');
  await until(() => /notes\.txt: is no frame: neither a PNG/.test(said.stderr));
  expect(existsSync(out)).toBe(false);

  writeFileSync(join(saved, 'live.png'), bytes);
  await until(() => said.stdout.split('9 of 9 patches read').length === 2);
  const before = readFileSync(out, 'utf8');
  // The next frame in the same place: its left half is dark. Beside it first, as programs do that never leave half a file.
  const { samples, ...size } = greyOf(designOf(mirror()));
  const half = samples.map((value, k) => (k % size.width < size.width / 2 ? 0 : value));
  writeFileSync(join(saved, 'live.png.tmp'), png({ ...size, samples: half }, 8));
  renameSync(join(saved, 'live.png.tmp'), join(saved, 'live.png'));
  await until(() => /^[1-8] of 9 patches read$/m.test(said.stdout));
  expect(said.stdout.match(/live\.png: 8-bit PNG/g)).toHaveLength(2);
  expect(said.stdout).not.toContain('.tmp');
  expect(readFileSync(out, 'utf8')).not.toBe(before);

  writeFileSync(join(saved, 'dark.png'), png({ ...size, samples: samples.map(() => 0) }, 8));
  await until(() => /dark\.png: the frame is dark; check that nothing blocks the light/.test(said.stderr));
  child.kill('SIGINT');
  expect(await ended).toBe(2);
  // What was read last stays.
  expect(readFileSync(out, 'utf8')).toMatch(/^# from .*live\.png, 8-bit PNG$/m);
});
