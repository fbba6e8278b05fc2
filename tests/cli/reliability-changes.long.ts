/**
 * Commands that write, struck at each change that it makes on the disk: killed before it or half through it, or told no. What a
 * user put there stays, a package is whole or not there, and the next run leaves what an undisturbed one does.
 */
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { expectMine, placeMine } from './support/kills-at-changes.ts';
import { NEW, OLD, overAnother, run, strike, write } from './support/kills-jobs.ts';
import { openScenario } from './support/run.ts';
import { wholePackage } from './support/whole-package.ts';

const FAULTS = ['ENOSPC', 'EROFS', 'EIO'] as const;

strike(
  'make, where there is nothing',
  {
    args: ['make', 's.yaml', '--out', 'below/out'],
    prepare: async (dir) => write(dir, 's.yaml', NEW),
    always: (dir) => {
      wholePackage(join(dir, 'below', 'out'));
    },
  },
  { faults: FAULTS, changes: 12 },
);

strike('make over another package', overAnother(['make', 's.yaml', '--out', 'out']), {
  faults: FAULTS,
  changes: 24,
});

strike(
  'make into a folder that stays',
  {
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
  { faults: FAULTS, changes: 24 },
);

strike(
  'fringes over others',
  overAnother(['fringes', 's.yaml', '--out', 'out', '--patch', 'near-1', '--size', '16']),
  { faults: ['ENOSPC'], changes: 12 },
);

strike(
  'plan over another',
  {
    args: ['plan', 'open.yaml', '--out', 'planned.yaml', '--reach', 'reach.svg', '--quiet'],
    prepare: async (dir) => {
      write(dir, 'open.yaml', openScenario());
      await run(dir, 'plan', 'open.yaml', '--out', 'planned.yaml', '--reach', 'reach.svg', '--quiet');
      write(dir, 'open.yaml', openScenario().replace('Open', 'Changed'));
    },
    always: (dir) => {
      const planned = readFileSync(join(dir, 'planned.yaml'), 'utf8');
      expect(planned).toMatch(
        /^format: .*title: (Open|Changed)\n.*# plan: centre\n# written by `datumlight plan`; .*\n$/s,
      );
      expect(readFileSync(join(dir, 'reach.svg'), 'utf8')).toMatch(
        /^<.*Reach map: (Open|Changed)<.*<\/svg>\n$/s,
      );
    },
  },
  { faults: FAULTS, changes: 8 },
);
