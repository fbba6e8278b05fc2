/** What a machine may refuse the executable: a small disk, one that is only to be read, a user without rights. */
import { execFileSync, spawn } from 'node:child_process';
import { resolve } from 'node:path';
import process from 'node:process';
import { folder } from './run.ts';

export const isRoot = process.getuid?.() === 0;

export interface SmallDisk {
  readonly path: string;
  /** From now on it can only be read. */
  readonly readOnly: () => void;
  readonly release: () => void;
}

/** A disk of a given size; undefined where this user may not mount one. */
export function smallDisk(size: string): SmallDisk | undefined {
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

/** The executable as a user without rights. */
export function withoutRights(args: readonly string[]): Promise<{ code: number | null; stderr: string }> {
  return new Promise((done) => {
    const user = isRoot ? ['setpriv', '--reuid=65534', '--regid=65534', '--clear-groups', '--'] : [];
    const [command, ...rest] = [...user, process.execPath, resolve('bin/datumlight.js'), ...args];
    const child = spawn(command!, rest, { env: { ...process.env, HOME: '/nonexistent' } });
    let stderr = '';
    child.stderr.on('data', (chunk) => {
      stderr += chunk;
    });
    child.on('close', (code) => done({ code, stderr }));
  });
}
