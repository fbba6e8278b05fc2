/** Joins the shards of a batch: packages, summary and page come out as one run would have written them, byte for byte. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { clearLeftovers } from '../disk/leftovers.ts';
import { makeFolder } from '../disk/make-folder.ts';
import { closedToWriting, isSystemError, unwritable } from '../disk/not-writable.ts';
import { writePackage } from '../disk/package-folder.ts';
import { isWhole, MANIFEST, manifestIn } from '../disk/package-reading.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { isObject } from '../reading/yaml/field.ts';
import type { BatchRow } from '../writing/batch/batch-row.ts';
import { SUMMARY_FORMAT, summaryJson } from '../writing/batch/batch-summary.ts';
import { foreignSummary, writeSummary } from './summary-files.ts';
import { clearUnfinished } from './unfinished.ts';

interface Gathered {
  readonly rows: readonly BatchRow[];
  readonly summary: string;
  /** Errors, for which no summary was written; or warnings, and all is there. */
  readonly findings: readonly Finding[];
}

interface MadeShard {
  readonly folder: string;
  readonly version: string;
  readonly batch: string;
  readonly total: number;
  readonly rows: readonly BatchRow[];
}

/** Faults told; more say the same. */
const MOST_FAULTS = 20;

/** `folders` are the shards' `--out`, in any order. Nothing is written unless every entry of the batch is there once. */
export function gather(folders: readonly string[], out: string): Gathered {
  const findings: Finding[] = [];
  const shards = folders.flatMap((folder) => {
    const shard = readShard(folder);
    if ('severity' in shard) findings.push(shard);
    return 'severity' in shard ? [] : [shard];
  });
  const [first] = shards;
  if (first === undefined || findings.length > 0) return { rows: [], summary: '', findings };
  findings.push(...mismatches(shards, first));
  if (findings.length > 0) return { rows: [], summary: '', findings };
  const placed = shards.flatMap(({ folder, rows }) => rows.map((row) => ({ folder, row })));
  placed.sort((a, b) => a.row.index - b.row.index);
  const { version, batch, total } = first;
  const rows = placed.map(({ row }) => row);
  const summary = summaryJson({ version, batch, total }, rows);
  const warnings: Finding[] = [];
  try {
    makeFolder(out);
    const closed = closedToWriting(out);
    if (closed !== undefined) return { rows, summary, findings: [unwritable(out, closed)] };
    const foreign = foreignSummary(out);
    if (foreign !== undefined) return { rows, summary, findings: [foreign] };
    for (const folder of new Set(rows.map(({ name }) => join(out, name, '..'))))
      warnings.push(...clearLeftovers(folder));
    for (const { folder, row } of placed) {
      const fault = row.written ? copyPackage(join(folder, row.name), join(out, row.name)) : undefined;
      if (fault !== undefined) findings.push(fault);
      if (findings.length >= MOST_FAULTS) break;
    }
  } catch (error) {
    if (!isSystemError(error)) throw error;
    findings.push(unwritable(out, error));
  }
  if (findings.length > 0) return { rows, summary, findings };
  clearUnfinished(out);
  return { rows, summary, findings: [...warnings, ...writeSummary(out, summary)] };
}

const fault = (where: string, message: string, hint: string): Finding =>
  errorFinding('unreadable-file', where, message, hint);

function readShard(folder: string): MadeShard | Finding {
  const path = join(folder, 'summary.json');
  try {
    const summary: unknown = JSON.parse(readFileSync(path, 'utf8'));
    if (isSummary(summary)) return { ...summary, folder };
    return fault(path, 'is not the summary of a batch', 'name the folders that `batch --shard` wrote');
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return fault(path, `cannot be read: ${reason}`, 'finish that shard of the batch first');
  }
}

const isSummary = (value: unknown): value is Omit<MadeShard, 'folder'> =>
  isObject(value) &&
  value.format === SUMMARY_FORMAT &&
  'batch' in value &&
  typeof value.total === 'number' &&
  Array.isArray(value.rows) &&
  value.rows.every((row) => Number.isInteger(row?.index) && isInside(row?.name));

/** A package's name leads nowhere but into the folder. */
const isInside = (name: unknown): boolean =>
  typeof name === 'string' &&
  name.split('/').every((step) => step !== '' && step !== '.' && step !== '..' && !/[\\\0]/.test(step));

/** The shards belong to one batch, and hold each of its entries once. */
function mismatches(shards: readonly MadeShard[], first: MadeShard): readonly Finding[] {
  const other = shards.find(({ batch, version }) => batch !== first.batch || version !== first.version);
  if (other !== undefined) {
    const hint = 'the scenarios, the version and the options must be the same in all shards';
    return [fault(other.folder, `does not belong to the same batch as ${first.folder}`, hint)];
  }
  const seen = new Map<number, string>();
  const findings: Finding[] = [];
  for (const { folder, rows } of shards) {
    const again = rows.find(({ index }) => seen.has(index));
    if (again !== undefined) {
      const message = `contains ${again.name}, which ${seen.get(again.index)} also contains`;
      findings.push(fault(folder, message, 'name each shard once'));
    }
    for (const { index } of rows) seen.set(index, folder);
  }
  if (findings.length === 0 && seen.size < first.total) {
    const message = `${first.total - seen.size} of ${first.total} entries are missing from the shards`;
    const folders = shards.map(({ folder }) => folder).join(', ');
    findings.push(fault(folders, message, 'name every shard of the batch'));
  }
  return findings;
}

function copyPackage(from: string, to: string): Finding | undefined {
  const found = manifestIn(from);
  if (found === undefined || !isWhole(from, found.manifest)) {
    return fault(from, 'contains no complete package', 'run that shard of the batch again');
  }
  const names = [...Object.keys(found.manifest.files), MANIFEST];
  return writePackage(to, new Map(names.map((name) => [name, readFileSync(join(from, name))])), {
    recovered: true,
  });
}
