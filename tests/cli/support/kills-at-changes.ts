/**
 * Runs that are struck at each change that they make on the disk, one after the other: killed, or told no by the disk. What a kill at
 * a random moment meets once in thousands of runs is met here each time.
 */
import { cpSync, existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect } from 'vitest';
import { executable, folder, type Outcome } from './run.ts';

/** A command over what a former run of it, or a user, has left. */
export interface Job {
  /** Fills an empty folder: files of the user's, a former package. Run once; each strike gets a copy. */
  readonly prepare: (dir: string) => Promise<void>;
  /** Run in the folder. */
  readonly args: readonly string[];
  /** What must be true whatever happened, of the folder as prepared and as it is now. */
  readonly always: (dir: string, prepared: Tree) => void;
  readonly thread?: 'main' | 'worker';
}

/** Every file below a folder with its contents; every folder as `name/`. */
export type Tree = Readonly<Record<string, string>>;

export function treeOf(root: string): Tree {
  const names = readdirSync(root, { recursive: true, encoding: 'utf8' }).sort();
  return Object.fromEntries(
    names.map((name) =>
      statSync(join(root, name)).isFile()
        ? [name, readFileSync(join(root, name), 'latin1')]
        : [`${name}/`, ''],
    ),
  );
}

const PRELOAD = resolve('tests/cli/support/faulty-disk.cjs');

function run(job: Job, dir: string, env: Record<string, string>): Promise<Outcome> {
  const preload = { NODE_OPTIONS: `--require "${PRELOAD}"`, DISK_THREAD: job.thread ?? 'main' };
  return executable(job.args, { cwd: dir, env: { XDG_CACHE_HOME: join(dir, 'cache'), ...preload, ...env } });
}

export interface Ready {
  readonly job: Job;
  readonly start: string;
  readonly prepared: Tree;
  /** What an undisturbed run leaves. */
  readonly undisturbed: Tree;
  /** Changes that an undisturbed run makes on the disk. */
  readonly changes: number;
}

export async function ready(job: Job): Promise<Ready> {
  const start = folder();
  await job.prepare(start);
  const prepared = treeOf(start);
  const dir = copyOf(start);
  const counter = join(folder(), 'count');
  expect(await run(job, dir, { DISK_COUNT: counter })).toMatchObject({ code: 0 });
  return { job, start, prepared, undisturbed: treeOf(dir), changes: Number(readFileSync(counter, 'utf8')) };
}

function copyOf(start: string): string {
  const dir = join(folder(), 'here');
  cpSync(start, dir, { recursive: true, preserveTimestamps: true });
  return dir;
}

/**
 * Killed at each change, or at each `step`th from one on: what must be true is; the next run gives what an undisturbed one does, and
 * nothing else is left.
 */
export async function killedAtEachChange(
  { job, start, prepared, undisturbed, changes }: Ready,
  { from = 1, step = 1 } = {},
): Promise<void> {
  for (let at = from; at <= changes; at += step) {
    const dir = copyOf(start);
    const struck = await run(job, dir, { DISK_FAULT: 'kill', DISK_FAULT_AT: String(at) });
    expect({ at, code: struck.code }).toEqual({ at, code: null });
    told(at, () => job.always(dir, prepared));
    expect({ at, ...(await run(job, dir, {})) }).toMatchObject({ at, code: 0 });
    told(at, () => expect(treeOf(dir)).toEqual(undisturbed));
  }
}

/** Told no at each change, or at each `step`th from one on: a named error and exit 2, or a change that can be gone without; nothing is left half done. */
export async function refusedAtEachChange(
  { job, start, prepared, undisturbed, changes }: Ready,
  fault: 'ENOSPC' | 'EROFS' | 'EIO',
  { from = 1, step = 1 } = {},
): Promise<{ readonly refused: number; readonly done: number }> {
  const met = { refused: 0, done: 0 };
  for (let at = from; at <= changes; at += step) {
    const dir = copyOf(start);
    const { code, stderr } = await run(job, dir, { DISK_FAULT: fault, DISK_FAULT_AT: String(at) });
    expect({ at, stderr }).not.toMatchObject({
      stderr: expect.stringMatching(/\n {4}at |internal error/),
    });
    told(at, () => job.always(dir, prepared));
    if (code === 0) met.done++;
    else {
      expect({ at, code, stderr }).toMatchObject({ at, code: 2, stderr: expect.stringContaining(fault) });
      expect(stderr).toContain('not-writable');
      met.refused++;
    }
    // A full disk hinders no clearing up; one that fails at it leaves that to the next run.
    if (fault === 'ENOSPC') told(at, () => expect(asidesIn(treeOf(dir))).toEqual([]));
    if (fault !== 'EIO' && at % AGAIN_EVERY !== 0) continue;
    expect({ at, ...(await run(job, dir, {})) }).toMatchObject({ at, code: 0 });
    told(at, () => expect(treeOf(dir)).toEqual(undisturbed));
  }
  return met;
}

/** After how many refusals it is tried again, where what is left is seen at once or nothing can be left. */
const AGAIN_EVERY = 5;

/** Names of what stands half done. */
const asidesIn = (tree: Tree): readonly string[] =>
  Object.keys(tree).filter((name) => /(^|\/)\.[^/]*\.(new|old)-|\.datumlight-new/.test(name));

function told(at: number, check: () => void): void {
  try {
    check();
  } catch (error) {
    throw new Error(`struck at change ${at}: ${error instanceof Error ? error.message : error}`, {
      cause: error,
    });
  }
}

/** Files of the user's, to be there whatever happens. */
export const MINE = 'mine';
export function placeMine(...path: readonly string[]): void {
  writeFileSync(join(...path), MINE);
}
export function expectMine(...path: readonly string[]): void {
  expect(existsSync(join(...path)) && readFileSync(join(...path), 'utf8')).toBe(MINE);
}
