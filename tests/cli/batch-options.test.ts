/** Options of `batch` that say nothing sensible, alone or together, are refused before any work: exit 2, the option named, what is right. */
import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, folder, soundScenario } from './support/run.ts';

const dir = folder();
writeFileSync(join(dir, 's.yaml'), soundScenario());

test.each<[string, RegExp]>([
  ['--jobs 0', /--jobs.* is "0"; give a whole number of workers from 1 to 1024/],
  ['--jobs 1.5', /--jobs.* is "1.5"/],
  ['--jobs 1025', /--jobs.* is "1025"/],
  ['--cache-size lots', /--cache-size.* is "lots"; give a size, e\.g\. `500 MB`/],
  ['--shard 3', /--shard.* is "3"; give the shard and the number of shards, e\.g\. `2\/4`/],
  ['--shard 5/4', /--shard.* is "5\/4"/],
  ['--shard 0/4', /--shard.* is "0\/4"/],
  ['--gather --shard 1/2', /--gather.*; remove `--shard` and `--verify`/],
  ['--gather --verify', /--gather.*; remove `--shard` and `--verify`/],
  ['--markdown moved.md', /--markdown.*; add `--verify`/],
  ['--overlay overlays', /--overlay.*; add `--verify`/],
])('%s', async (options, words) => {
  const { code, stdout, stderr } = await datumlight(
    ['batch', 's.yaml', '--out', 'out', ...options.split(' ')],
    { cwd: dir },
  );
  expect(code).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).toMatch(words);
  expect(readdirSync(dir)).toEqual(['s.yaml']);
});
