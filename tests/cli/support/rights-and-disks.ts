/** What a machine may refuse the executable: a small disk, one that is only to be read, a user without rights. */
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { cannot, program } from '../../machine/outside-programs.ts';
import { executable, folder } from './run.ts';

export const isRoot = process.getuid?.() === 0;

export interface SmallDisk {
  readonly path: string;
  /** From now on it can only be read. */
  readonly readOnly: () => void;
  readonly release: () => void;
}

/** A disk of a given size; undefined where this user may not mount one. */
function mounted(size: string): SmallDisk | undefined {
  const path = folder();
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', path], { stdio: 'ignore' });
  } catch {
    return undefined;
  }
  return {
    path,
    readOnly: () => execFileSync('mount', ['-o', 'remount,ro', path]),
    release: () => execFileSync('umount', ['-l', path]),
  };
}

export function smallDisk(size: string): SmallDisk {
  const disk = mounted(size);
  if (disk === undefined) throw new Error('a disk could be mounted here a moment ago, and cannot now');
  return disk;
}

/** For `test.skipIf`. */
export const noSmallDisks = (): boolean => {
  const disk = isRoot ? mounted('16k') : undefined;
  disk?.release();
  return cannot('a disk that root may mount', disk !== undefined);
};

/** Nobody's number on Linux. */
export const NOBODY = 65534;
const setpriv = program('setpriv');

/** For `test.skipIf`: whether there is no user without rights, other than this one, to run the executable as. */
export const noOtherUser = (): boolean => {
  const can =
    isRoot &&
    setpriv !== undefined &&
    spawnSync(setpriv, [...AS_NOBODY, process.execPath, '--version'], { stdio: 'ignore' }).status === 0;
  return cannot('root with setpriv, and a Node.js that other users may run', can);
};
const AS_NOBODY = [`--reuid=${NOBODY}`, `--regid=${NOBODY}`, '--clear-groups', '--'];

/** The executable where every user can read it, whoever may read the clone. */
let copy: string | undefined;
function copyForAll(): string {
  if (copy !== undefined && existsSync(copy)) return copy;
  copy = folder();
  for (const name of ['bin', 'dist', 'package.json'])
    cpSync(resolve(name), join(copy, name), { recursive: true });
  openForAll(copy);
  return copy;
}

/** Everything below can be read by every user, whatever the umask. */
export function openForAll(root: string): void {
  chmodSync(root, 0o755);
  if (!statSync(root).isDirectory()) return;
  for (const name of readdirSync(root, { recursive: true, encoding: 'utf8' }))
    chmodSync(join(root, name), 0o755);
}

/** The executable as a user without rights: as this one, or for root as another. */
export function withoutRights(
  args: readonly string[],
): Promise<{ readonly code: number | null; readonly stderr: string }> {
  if (!isRoot) return executable(args);
  return new Promise((done, fail) => {
    const command = [process.execPath, join(copyForAll(), 'bin/datumlight.js'), ...args];
    const child = spawn(setpriv!, [...AS_NOBODY, ...command], {
      cwd: '/',
      env: { ...process.env, HOME: '/nonexistent' },
    });
    let stderr = '';
    child.stderr.on('data', (chunk) => {
      stderr += chunk;
    });
    child.on('error', fail);
    child.on('close', (code) => done({ code, stderr }));
  });
}
