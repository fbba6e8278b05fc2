/** Each job struck at each change, by a kill and by what a disk can say. */
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  expectMine,
  type Job,
  killedAtEachChange,
  placeMine,
  type Ready,
  ready,
  refusedAtEachChange,
} from './kills-at-changes.ts';
import { executable, soundScenario } from './run.ts';
import { wholePackage } from './whole-package.ts';

export const OLD = soundScenario();
export const NEW = OLD.replace('Sound', 'Changed').replace('[60, 0]', '[61, 0]');

export const write = (dir: string, name: string, text: string): void => writeFileSync(join(dir, name), text);

export async function run(dir: string, ...args: readonly string[]): Promise<void> {
  const done = await executable(args, { cwd: dir, env: { XDG_CACHE_HOME: join(dir, 'cache') } });
  expect(done).toMatchObject({ code: 0 });
}

/** Whole in its place, or, its swap cut in two, whole aside. */
export function wholeSomewhere(around: string, name: string, ...users: readonly string[]): void {
  const aside = existsSync(join(around, name))
    ? name
    : readdirSync(around).find((one) => one.startsWith(`.${name}.old-`));
  wholePackage(join(around, aside!), users);
  for (const user of users) expectMine(around, aside!, user);
}

/** A package, or pictures, over what stands there with a file of the user's. */
export const overAnother = (args: readonly string[]): Job => ({
  args,
  prepare: async (dir) => {
    write(dir, 's.yaml', OLD);
    await run(dir, ...args);
    placeMine(dir, 'out', 'notes.txt');
    write(dir, 's.yaml', NEW);
  },
  always: (dir) => wholeSomewhere(dir, 'out', 'notes.txt'),
});

export interface Strikes {
  readonly faults: readonly ('ENOSPC' | 'EROFS' | 'EIO')[];
  /** Each change, or each so manyth. */
  readonly step?: number;
  /** The least that the command changes on the disk, so that the strikes are known to meet something. */
  readonly changes: number;
}

export function strike(name: string, job: Job, { faults, step = 1, changes }: Strikes): void {
  describe(name, () => {
    let prepared: Promise<Ready> | undefined;
    const once = (): Promise<Ready> => {
      prepared ??= ready(job);
      return prepared;
    };

    test('killed', async () => {
      const made = await once();
      expect(made.changes).toBeGreaterThanOrEqual(changes);
      await killedAtEachChange(made, { step });
    }, 1_800_000);

    test.each(faults)(
      'told %s',
      async (fault) => {
        const { refused } = await refusedAtEachChange(await once(), fault, { step });
        // Making the folder, and each file of a package, can never be gone without.
        expect(refused).toBeGreaterThanOrEqual(changes / step / 4);
      },
      1_800_000,
    );
  });
}
