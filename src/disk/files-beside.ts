/** The files that a scenario names, looked for beside it; those of a scenario on standard input in the working folder. */
import { readFileSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { FileSource } from '../reading/scenario/read-scenario.ts';
import { meaningHash } from './line-ends.ts';

/** Past this a file is refused, bytes: many times the largest scenario or mesh that is of use. */
export const LARGEST_FILE = 64 * 1024 * 1024;

/** Why a file cannot be read, without the folder it was looked for in: the words are the same on any machine. */
const FAULTS: Readonly<Record<string, string>> = {
  ENOENT: 'no such file',
  ENOTDIR: 'no such file',
  EISDIR: 'it is a folder',
  EACCES: 'permission denied',
  ENAMETOOLONG: 'its name is too long',
};

export const filesBeside =
  (scenario: string): FileSource =>
  (name) => {
    try {
      const path = resolve(scenario === '-' ? '.' : dirname(scenario), name);
      const stats = statSync(path);
      if (stats.isDirectory()) return { fault: FAULTS.EISDIR! };
      if (!stats.isFile()) return { fault: 'it is not a regular file' };
      if (stats.size > LARGEST_FILE)
        return { fault: `it has ${stats.size} bytes; the limit is ${LARGEST_FILE}` };
      return readFileSync(path);
    } catch (error) {
      const { code, message } = error as NodeJS.ErrnoException;
      return { fault: FAULTS[code ?? ''] ?? code ?? message };
    }
  };

/** What files of these names hold: the SHA-256 of each, hex, line ends of a text as LF, or in words why it cannot be read. */
export type NamedContents = ReadonlyMap<string, string>;

/** A source that notes what it gave. */
export function noting(files: FileSource): { readonly files: FileSource; readonly given: NamedContents } {
  const given = new Map<string, string>();
  return {
    given,
    files: (name) => {
      const content = files(name);
      given.set(name, 'fault' in content ? content.fault : meaningHash(content));
      return content;
    },
  };
}
