/**
 * Names of what stands aside for a moment, beside the folder it belongs to: `.NAME.new-HOST-PROCESS-COUNT`. They tell whose it is,
 * so that what a killed run left behind can be told from what a running one is at work on.
 */
import { readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { hostname, uptime } from 'node:os';
import { basename, dirname, join } from 'node:path';
import process from 'node:process';
import { threadId } from 'node:worker_threads';

export const MARK_NEW = 'new';
export const MARK_OLD = 'old';
type Mark = typeof MARK_NEW | typeof MARK_OLD;

/** After a day nobody is at work on it any more, on whatever machine of a shared disk. */
const ABANDONED_AFTER_MS = 24 * 3600 * 1000;

const host = hostname().replace(/[^A-Za-z0-9]/g, '') || 'host';
let count = 0;

/** A name that no other process and no other thread takes. */
export function asideName(path: string, mark: Mark): string {
  count++;
  return join(
    dirname(path),
    `.${basename(path)}.${mark}-${host}-${process.pid}-${threadId}x${count}x${startedAt.toString(36)}`,
  );
}

/** Tells this process from an earlier one of the same number, as in a container whose processes all have number 1. */
const startedAt = Math.floor(performance.timeOrigin);

export interface Aside {
  readonly path: string;
  /** What it stands aside for. */
  readonly of: string;
  readonly mark: Mark;
  /** Its run is over. */
  readonly orphaned: boolean;
}

/** What stands aside in a folder; none where it cannot be read. */
export function asidesIn(folder: string): readonly Aside[] {
  return namesIn(folder).flatMap((name) => {
    const parts = /^\.(.+)\.(new|old)-([A-Za-z0-9]+)-(\d+)-\d+x\d+x([a-z0-9]+)$/.exec(name);
    if (parts === null) return [];
    const [, of, mark, itsHost, itsProcess, itsStart] = parts;
    const path = join(folder, name);
    const orphaned = (itsHost === host && !isRunning(Number(itsProcess), itsStart!)) || isAbandoned(path);
    return [{ path, of: join(folder, of!), mark: mark as Mark, orphaned }];
  });
}

/** Takes away what was put aside and is of no more use; that it cannot is never the trouble to tell of. */
export function discard(path: string): void {
  try {
    rmSync(path, { recursive: true, force: true });
  } catch {
    // The disk said no already, of the same place.
  }
}

function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

function isRunning(itsProcess: number, itsStart: string): boolean {
  if (itsProcess === process.pid) return itsStart === startedAt.toString(36);
  try {
    process.kill(itsProcess, 0);
  } catch (error) {
    if ((error as { code?: string }).code !== 'EPERM') return false;
  }
  // Numbers come again after some ten thousand processes: one that started later than the name says is another.
  const start = startOf(itsProcess);
  return start === undefined || start < Number.parseInt(itsStart, 36) + CLOCK_SLACK_MS;
}

/** A clock may have been set since; only a difference beyond this tells two processes apart. */
const CLOCK_SLACK_MS = 60_000;
/** Of /proc, the same on every Linux. */
const TICKS_A_SECOND = 100;
/** The start, in ticks after the machine's, is field 22 of /proc/N/stat (proc(5)); the name before it may hold spaces. */
const FIELDS_AFTER_NAME = 22 - 3;

/** When a process started, ms since 1970; undefined where the system does not tell. */
function startOf(itsProcess: number): number | undefined {
  try {
    const stat = readFileSync(`/proc/${itsProcess}/stat`, 'utf8');
    const ticks = Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[FIELDS_AFTER_NAME]);
    return Number.isFinite(ticks) ? Date.now() - (uptime() - ticks / TICKS_A_SECOND) * 1000 : undefined;
  } catch {
    return undefined;
  }
}

function isAbandoned(path: string): boolean {
  const stats = statSync(path, { throwIfNoEntry: false });
  return stats !== undefined && Date.now() - stats.ctimeMs > ABANDONED_AFTER_MS;
}
