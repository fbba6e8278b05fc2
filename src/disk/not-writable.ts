/** What is said where the disk says no: the finding `not-writable`, with what would help. */
import type { Finding } from '../finding/finding.ts';

interface SystemError extends Error {
  readonly code: string;
}

export const isSystemError = (error: unknown): error is SystemError =>
  error instanceof Error && 'code' in error && typeof error.code === 'string';

const REMEDIES: Record<string, string> = {
  ENOSPC: 'make room on the disk',
  EDQUOT: 'make room within your quota',
  EROFS: 'name a folder on a disk that can be written',
  EACCES: 'name a folder that you may write to',
  EPERM: 'name a folder that you may write to',
  EEXIST: 'move that file away or name another folder',
  EISDIR: 'that is a folder: name a file in it, or another one',
  ENOTDIR: 'a part of the path is a file: name another folder',
  ENAMETOOLONG: 'name a folder with a shorter path',
};

export const notWritable = (path: string, message: string, hint: string): Finding => ({
  severity: 'error',
  rule: 'not-writable',
  where: path,
  message: `${path} ${message}`,
  hint,
});

export const unwritable = (path: string, error: SystemError): Finding =>
  notWritable(
    path,
    `cannot be written: ${error.message}`,
    REMEDIES[error.code] ?? 'check the folder and its rights',
  );
