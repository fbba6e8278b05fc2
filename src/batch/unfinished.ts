/**
 * Where a run without a cache keeps what it has done until it is done with all, so that a run that was stopped can go on: a hidden folder
 * in the batch's own. Each run that is at work there holds a mark in it; the last one to leave, or a run that has a cache, clears it.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { asideName, asidesIn, discard, MARK_NEW } from '../disk/aside.ts';
import { isSystemError } from '../disk/not-writable.ts';

const UNFINISHED = '.datumlight-unfinished';
const RUN = 'run';

interface Unfinished {
  readonly folder: string;
  readonly leave: () => void;
}

export function enterUnfinished(out: string): Unfinished {
  const folder = join(out, UNFINISHED);
  const mark = asideName(join(folder, RUN), MARK_NEW);
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    writeFileSync(mark, '');
  } catch (error) {
    // A full disk stops the run where it needs the room.
    if (!isSystemError(error)) throw error;
  }
  return {
    folder,
    leave: () => {
      discard(mark);
      clearUnfinished(out);
    },
  };
}

/** Takes the folder away, unless a run is at work in it. */
export function clearUnfinished(out: string): void {
  const folder = join(out, UNFINISHED);
  const inUse = asidesIn(folder).some(({ of, orphaned }) => of === join(folder, RUN) && !orphaned);
  if (!inUse) discard(folder);
}
