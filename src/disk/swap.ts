/** Folders that change places by renames, while other runs do the same: the new one takes the name, the user's files come along. */
import { existsSync, linkSync, readdirSync, renameSync, rmdirSync, statSync, unlinkSync } from 'node:fs';
import { join } from 'node:path';
import { asideName, MARK_OLD } from './aside.ts';
import { isSystemError } from './not-writable.ts';
import { MANIFEST, ownFiles } from './package-reading.ts';

/** Tries at swapping with other runs at the same folder: each try fails only when another run succeeded. */
export const MOST_TRIES = 1000;

export function stateOf(target: string): 'absent' | 'folder' | 'taken' {
  const stats = statSync(target, { throwIfNoEntry: false });
  return stats === undefined ? 'absent' : stats.isDirectory() ? 'folder' : 'taken';
}

/** The new folder takes the name; of the old one, the user's files come along and the rest goes. */
export function swap(target: string, aside: string): void {
  const linked = new Set<string>();
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    linkForeign(target, aside, linked);
    const old = asideName(target, MARK_OLD);
    const had = renamed(target, old);
    if (renamed(aside, target)) {
      if (had) emptyInto(old, target);
      return;
    }
    // Another run put its package there in between: ours goes in its place, and what it had put aside is its own to carry over.
    if (had) emptyInto(old, aside);
  }
  throw Object.assign(new Error(`${MOST_TRIES} other runs wrote here at the same time`), { code: 'EBUSY' });
}

/** False where there is nothing to rename, or where something stands in the way. */
export function renamed(from: string, to: string): boolean {
  try {
    renameSync(from, to);
    return true;
  } catch (error) {
    if (isSystemError(error) && ['ENOENT', 'ENOTEMPTY', 'EEXIST'].includes(error.code)) return false;
    throw error;
  }
}

/** The user's files get a second name in the new folder before it takes the place, so that they are in it from the first moment. */
function linkForeign(target: string, aside: string, linked: Set<string>): void {
  if (stateOf(target) !== 'folder') return;
  const own = ownFiles(target);
  for (const name of readdirSync(target)) {
    if (own.has(name) || linked.has(name) || existsSync(join(aside, name))) continue;
    try {
      linkSync(join(target, name), join(aside, name));
      linked.add(name);
    } catch (error) {
      // On a disk without hard links the file is moved over after the swap.
      if (!isSystemError(error)) throw error;
    }
  }
}

/**
 * Removes a package put aside; what is the user's in it and not yet in `to` goes there. The manifest goes last: until then it tells a
 * run that comes after a kill which of the files are the package's.
 */
export function emptyInto(old: string, to: string): void {
  const own = ownFiles(old);
  const manifestLast = (name: string): number => (name === MANIFEST && own.has(name) ? 1 : 0);
  for (const name of readdirSync(old).toSorted((a, b) => manifestLast(a) - manifestLast(b))) {
    const [from, into] = [join(old, name), join(to, name)];
    if (own.has(name) || sameFile(from, into)) unlinkSync(from);
    else if (!existsSync(into)) renameSync(from, into);
  }
  try {
    rmdirSync(old);
  } catch (error) {
    // Something of the user's has the same name as something in the new folder: it stays where it is.
    if (!isSystemError(error)) throw error;
  }
}

function sameFile(a: string, b: string): boolean {
  const [first, second] = [a, b].map((path) => statSync(path, { throwIfNoEntry: false, bigint: true }));
  return first !== undefined && second !== undefined && first.ino === second.ino && first.dev === second.dev;
}
