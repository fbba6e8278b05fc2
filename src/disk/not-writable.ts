/** What is said where the disk says no: the finding `not-writable`, with what would help. */
import { accessSync, constants, statSync } from 'node:fs';
import process from 'node:process';
import { errorFinding, type Finding } from '../finding/finding.ts';

export interface SystemError extends Error {
  readonly code: string;
}

export const isSystemError = (error: unknown): error is SystemError =>
  error instanceof Error && 'code' in error && typeof error.code === 'string';

const REMEDIES: Record<string, string> = {
  ENOSPC: 'free some space on the disk',
  EDQUOT: 'free some of your disk quota',
  EROFS: 'name a folder on a writable disk',
  EACCES: 'name a folder that you may write to',
  EPERM: 'name a folder that you may write to',
  EEXIST: 'move that file away or name another folder',
  EISDIR: 'that is a folder; name a file',
  ENOTDIR: 'part of the path is a file; name another folder',
  ENAMETOOLONG: 'name a folder with a shorter path',
};

export const notWritable = (path: string, message: string, hint: string): Finding =>
  errorFinding('not-writable', path, `${path} ${message}`, hint);

export const unwritable = (path: string, error: SystemError): Finding =>
  notWritable(
    path,
    `cannot be written: ${error.message}`,
    REMEDIES[error.code] ?? 'check the folder and its permissions',
  );

/**
 * Why a folder or file that stands there is closed to writing; undefined where it is open, or not there. Asked of what is to be replaced:
 * a rename needs the right to the folder around it only. Root may write anywhere, but what its owner has closed to everyone (no write bit
 * in its mode) stays closed to root too.
 */
export function closedToWriting(path: string): SystemError | undefined {
  try {
    accessSync(path, constants.W_OK);
    const mode = statSync(path).mode & 0o7777;
    if (process.getuid?.() !== 0 || (mode & 0o222) !== 0) return undefined;
    const message = `EACCES: it is write-protected for everyone (mode ${mode.toString(8).padStart(4, '0')})`;
    return Object.assign(new Error(message), { code: 'EACCES' });
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return error.code === 'ENOENT' ? undefined : error;
  }
}
