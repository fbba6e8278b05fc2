/**
 * A batch, in its main thread and in its workers, struck at each change that it makes on the disk: killed before it or half through it, or told no. What a
 * user put there stays, a package is whole or not there, and the next run leaves what an undisturbed one does.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { expectMine, type Job, placeMine } from './support/kills-at-changes.ts';
import { NEW, OLD, run, strike, wholeSomewhere, write } from './support/kills-jobs.ts';

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
      for (const name of ['summary.csv', 'summary.json', 'overview.html']) {
        expect(readFileSync(join(dir, 'out', name), 'utf8')).toMatch(
          /^index,.*\n$|^\{.*\n\}\n$|<\/html>\n$/s,
        );
      }
    },
  };
};

// Its packages are written as make's are: a full disk stands for the other faults.
strike('its main thread', batch('main', '--no-cache'), { faults: ['ENOSPC', 'EROFS'], changes: 8 });
strike('its workers', batch('worker', '--no-cache'), { faults: ['ENOSPC'], changes: 48 });
strike('its workers, with a cache', batch('worker'), { faults: ['ENOSPC'], step: 5, changes: 48 });
