/**
 * A batch: every entry made or taken from the cache, its packages put in place, its summary and page written. What a run that was
 * stopped had done is in the cache, so the next one goes on from there; without a cache it is kept beside the packages until all
 * is done.
 */
import { type Dirent, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { clearLeftovers } from '../disk/leftovers.ts';
import { makeFolder } from '../disk/make-folder.ts';
import { closedToWriting, isSystemError, unwritable } from '../disk/not-writable.ts';
import { writePackage } from '../disk/package-folder.ts';
import { isWhole, manifestIn } from '../disk/package-reading.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { type BatchRow, type Figures, figuresWithout } from '../writing/batch/batch-row.ts';
import { summaryJson } from '../writing/batch/batch-summary.ts';
import { type PackageFiles, sha256 } from '../writing/manifest.ts';
import { Cache, type CacheHit } from './cache.ts';
import { type Case, type Entry, isCase } from './case.ts';
import type { CaseTask } from './do-case.ts';
import { caseKey, type Making } from './make-case.ts';
import { foreignSummary, writeSummary } from './summary-files.ts';
import { clearUnfinished, enterUnfinished } from './unfinished.ts';
import { doCases } from './workers.ts';

export interface BatchRequest {
  readonly entries: readonly Entry[];
  readonly out: string;
  readonly making: Making;
  readonly threads: number;
  /** The cache's folder; undefined: none. */
  readonly cache: string | undefined;
  readonly cacheBound: number;
  readonly shard: Shard | undefined;
}

interface Shard {
  /** From 1 to `count`. */
  readonly index: number;
  readonly count: number;
}

/** `2/4`; undefined for anything else. */
export function parseShard(text: string): Shard | undefined {
  const found = /^(\d{1,6})\/(\d{1,6})$/.exec(text);
  if (found === null) return undefined;
  const [index, count] = [Number(found[1]), Number(found[2])];
  return index >= 1 && index <= count ? { index, count } : undefined;
}

/** By the SHA-256 of a case's name, so that a case more or less moves no other one; 48 bits of it: whole numbers that a double holds. */
const belongsTo = ({ index, count }: Shard, name: string): boolean =>
  Number.parseInt(sha256(name).slice(0, 12), 16) % count === index - 1;

export interface BatchProgress {
  readonly total: number;
  readonly done: number;
  readonly cached: number;
  /** The row that was finished last. */
  readonly row: BatchRow;
}

interface BatchResult {
  readonly rows: readonly BatchRow[];
  readonly made: number;
  readonly cached: number;
  readonly summary: string;
  /** Faults of the batch as a whole, and what could not be kept. */
  readonly findings: readonly Finding[];
}

export async function runBatch(
  request: BatchRequest,
  report: (progress: BatchProgress) => void,
): Promise<BatchResult> {
  const { entries, out, making, shard } = request;
  const { own, finish, rows } = shareOf(request, report);
  const refused = (finding: Finding): BatchResult => {
    return { rows: [], made: 0, cached: 0, summary: '', findings: [finding] };
  };
  const warnings: Finding[] = [];
  try {
    makeFolder(out);
    const closed = closedToWriting(out);
    if (closed !== undefined) return refused(unwritable(out, closed));
    const foreign = foreignSummary(out);
    if (foreign !== undefined) return refused(foreign);
    for (const folder of new Set(own.map(({ name }) => join(out, name, '..'))))
      warnings.push(...clearLeftovers(folder));
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return refused(unwritable(out, error));
  }

  const unfinished = request.cache === undefined ? enterUnfinished(out) : undefined;
  const store = new Cache(request.cache ?? unfinished!.folder);
  let cached = 0;
  let cacheFull = false;
  const tasks: CaseTask[] = [];
  for (const entry of own) {
    if (!isCase(entry)) {
      finish(entry, figuresWithout('unusable', entry.findings), cached);
      continue;
    }
    const found = reused(entry, store.find(caseKey(entry, making)), out);
    if (found !== undefined) finish(entry, found, ++cached);
    else tasks.push({ one: entry, making, out, cache: store.folder, verify: false });
  }
  await doCases(tasks, request.threads, (one, done) => {
    cacheFull ||= done.cacheFull === true;
    finish(one, done.figures, cached);
  });

  const listed = rows();
  const head = {
    version: making.version,
    batch: batchIdentity(entries, making),
    total: entries.length,
    ...(shard === undefined ? {} : { shard: `${shard.index}/${shard.count}` }),
  };
  const summary = summaryJson(head, listed);
  const faults = writeSummary(out, summary);
  if (unfinished === undefined) {
    store.shrink(request.cacheBound);
    clearUnfinished(out);
  } else unfinished.leave();
  const full = cacheFull && request.cache !== undefined ? [cacheNote(request.cache)] : [];
  return {
    rows: listed,
    made: tasks.length,
    cached,
    summary,
    findings: [...warnings, ...full, ...faults],
  };
}

/** The entries that this run is to do, and their rows: filled in and reported one by one, listed in the batch's order once all are done. */
export function shareOf(
  { entries, shard }: Pick<BatchRequest, 'entries' | 'shard'>,
  report: (progress: BatchProgress) => void,
) {
  const indices = new Map(entries.map((entry, k) => [entry, k + 1]));
  const own = entries.filter(({ name }) => shard === undefined || belongsTo(shard, name));
  const rows = new Map<Entry, BatchRow>();
  const finish = (entry: Entry, figures: Figures, cached: number): void => {
    const { name, file } = entry;
    const named = isCase(entry) ? (entry.case ?? null) : null;
    const row = { index: indices.get(entry)!, name, file, case: named, ...figures };
    rows.set(entry, row);
    report({ total: own.length, done: rows.size, cached, row });
  };
  return { own, finish, rows: (): readonly BatchRow[] => own.map((entry) => rows.get(entry)!) };
}

/** Parts of one batch know each other by this: the same entries, made by the same version with the same options. */
const batchIdentity = (entries: readonly Entry[], making: Making): string =>
  sha256(
    JSON.stringify(
      entries.map((entry) => [
        entry.name,
        isCase(entry)
          ? caseKey(entry, { ...making, program: '' })
          : entry.findings.map(({ message }) => message),
      ]),
    ),
  );

/** The figures of a case that is in the cache, its package in place; undefined where it has to be made. */
function reused(one: Case, hit: CacheHit | undefined, out: string): Figures | undefined {
  if (hit === undefined) return undefined;
  if (hit.manifest === null) return hit.figures;
  const folder = join(out, one.name);
  const standing = manifestIn(folder);
  if (
    standing !== undefined &&
    sha256(standing.text) === hit.manifest &&
    isWhole(folder, standing.manifest)
  ) {
    return hit.figures;
  }
  const files: PackageFiles | undefined = hit.files();
  if (files === undefined) return undefined;
  const fault = writePackage(folder, files, { recovered: true });
  return fault === undefined ? hit.figures : figuresWithout('unusable', [fault]);
}

function cacheNote(folder: string): Finding {
  const message = `some results could not be stored in the cache ${folder}`;
  const hint = 'name another folder with --cache, or use --no-cache';
  return { ...errorFinding('not-writable', folder, message, hint), severity: 'warning' };
}

/** None where there is no folder, or one that may not be looked into: no package is seen there either. */
function entriesOf(folder: string): readonly Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return [];
  }
}

/** Packages in `out` that none of the entries gives, by their folders' names. */
export function orphans(out: string, entries: readonly Entry[]): readonly string[] {
  const known = new Set(entries.map(({ name }) => name));
  const folders = (path: string): string[] =>
    entriesOf(path)
      .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
      .map(({ name }) => name);
  const names = folders(out).flatMap((name) => [
    name,
    ...folders(join(out, name)).map((inner) => `${name}/${inner}`),
  ]);
  return names.filter((name) => !known.has(name) && manifestIn(join(out, name)) !== undefined).sort();
}
