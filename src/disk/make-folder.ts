/**
 * A folder with all that is missing above it, or nothing. Node's own recursive mkdir says ENOENT of a disk that is only to be read, and
 * leaves what it had made before it failed.
 */
import { mkdirSync, rmdirSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { isSystemError } from './not-writable.ts';

/** The folders that were made, from the top down; none where it was there. Throws the system's error. */
export function makeFolder(path: string): readonly string[] {
  const folder = resolve(path);
  if (isFolder(folder)) return [];
  const above = dirname(folder);
  const made = above === folder ? [] : makeFolder(above);
  try {
    mkdirSync(folder);
  } catch (error) {
    // Another run has made it meanwhile.
    if (isSystemError(error) && error.code === 'EEXIST' && isFolder(folder)) return made;
    removeFolders(made);
    throw error;
  }
  return [...made, folder];
}

/** Those of the folders that are empty, from the bottom up. */
export function removeFolders(folders: readonly string[]): void {
  try {
    for (const folder of folders.toReversed()) rmdirSync(folder);
  } catch (error) {
    if (!isSystemError(error)) throw error;
  }
}

const isFolder = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isDirectory() === true;
