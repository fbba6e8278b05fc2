/** Joins the shards of a batch: packages, summary and page come out as one run would have written them, byte for byte. */
import { join } from 'node:path';
import { clearLeftovers } from '../disk/leftovers.ts';
import { makeFolder } from '../disk/make-folder.ts';
import { closedToWriting, isSystemError, unwritable } from '../disk/not-writable.ts';
import { writePackage } from '../disk/package-folder.ts';
import { fileAsWritten, MANIFEST, manifestIn } from '../disk/package-reading.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import type { BatchRow } from '../writing/batch/batch-row.ts';
import { summaryJson } from '../writing/batch/batch-summary.ts';
import { folded } from './package-names.ts';
import { readShardSummaries, type ShardSummary } from './shard-summary.ts';
import { foreignSummary, writeSummary } from './summary-files.ts';
import { clearUnfinished } from './unfinished.ts';

interface Gathered {
  readonly rows: readonly BatchRow[];
  readonly summary: string;
  /** Errors, for which no summary was written; or warnings, and all is there. */
  readonly findings: readonly Finding[];
}

/** Faults told; more say the same. */
const MOST_FAULTS = 20;

/** `folders` are the shards' `--out`, in any order. Nothing is written unless every entry of the batch is there once. */
export function gather(folders: readonly string[], out: string): Gathered {
  const none = { rows: [], summary: '' };
  const read = readShardSummaries(folders);
  if ('findings' in read) return { ...none, findings: read.findings };
  const { shards } = read;
  const first = shards[0]!;
  const findings = [...mismatches(shards, first)];
  if (findings.length > 0) return { ...none, findings };
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

/** The shards belong to one batch, and hold each of its entries once. */
function mismatches(shards: readonly ShardSummary[], first: ShardSummary): readonly Finding[] {
  const other = shards.find(({ batch, version }) => batch !== first.batch || version !== first.version);
  if (other !== undefined) {
    const hint = 'the scenarios, the version and the options must be the same in all shards';
    return [fault(other.folder, `does not belong to the same batch as ${first.folder}`, hint)];
  }
  const seen = new Map<number, string>();
  const names = new Map<string, string>();
  const findings: Finding[] = [];
  for (const { folder, rows } of shards) {
    const again = rows.find(({ index }) => seen.has(index));
    if (again !== undefined) {
      const message = `contains ${again.name}, which ${seen.get(again.index)} also contains`;
      findings.push(fault(folder, message, 'name each shard once'));
    }
    for (const { index } of rows) seen.set(index, folder);
    // What each folder under `--out` holds: one package, or the cases of one scenario.
    const clash = rows.find(({ name, file }) => {
      const [stem, inner] = folded(name).split('/');
      const held = JSON.stringify([file, inner === undefined]);
      const earlier = names.get(stem!);
      if (earlier === undefined) names.set(stem!, held);
      return earlier !== undefined && (earlier !== held || inner === undefined);
    });
    if (again === undefined && clash !== undefined) {
      const message = `contains ${clash.name}, whose folder another row has too`;
      findings.push(fault(folder, message, 'the file was changed; run that shard of the batch again'));
    }
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
  const incomplete = fault(from, 'contains no complete package', 'run that shard of the batch again');
  if (found === undefined) return incomplete;
  const { manifest, text } = found;
  const files = new Map<string, Uint8Array | string>();
  for (const name of Object.keys(manifest.files)) {
    const content = fileAsWritten(from, name, manifest);
    if (content === undefined) return incomplete;
    files.set(name, content);
  }
  return writePackage(to, files.set(MANIFEST, text), { recovered: true });
}
