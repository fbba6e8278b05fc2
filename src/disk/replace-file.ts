/**
 * One file replaced whole: written aside, then renamed over the old one, whose mode it keeps. What a killed run left aside of it goes.
 * A link is followed; what is no file (a pipe, /dev/null) is written into, never replaced.
 */
import { chmodSync, mkdirSync, realpathSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { Finding } from '../finding/finding.ts';
import { asideName, asidesIn, discard, MARK_NEW } from './aside.ts';
import { closedToWriting, isSystemError, unwritable } from './not-writable.ts';

/** Throws the system's error; the old file then stands as it was. A file that is closed to writing is not replaced. */
export function replaceFile(path: string, content: string): void {
  const old = statSync(path, { throwIfNoEntry: false });
  if (old !== undefined && !old.isFile()) {
    writeFileSync(path, content);
    return;
  }
  const closed = closedToWriting(path);
  if (closed !== undefined) throw closed;
  const target = old === undefined ? resolve(path) : realpathSync(path);
  for (const { path: left, of, mark, orphaned } of asidesIn(dirname(target))) {
    if (orphaned && mark === MARK_NEW && of === target) discard(left);
  }
  const aside = asideName(target, MARK_NEW);
  try {
    writeFileSync(aside, content);
    if (old !== undefined) chmodSync(aside, old.mode & 0o7777);
    renameSync(aside, target);
  } catch (error) {
    discard(aside);
    throw error;
  }
}

/** As `replaceFile`, in a folder that is made where it is not there; a finding where the disk says no. */
export function placeFile(path: string, content: string): Finding | undefined {
  try {
    mkdirSync(dirname(resolve(path)), { recursive: true });
    replaceFile(path, content);
    return undefined;
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return unwritable(path, error);
  }
}
