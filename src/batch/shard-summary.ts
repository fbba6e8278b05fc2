/** A shard's `summary.json` as `--gather` reads it: validated against `schemas/summary.schema.json`, every fault with its row and key. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { quote } from '../quantity/problem.ts';
import { type SchemaError, validateHead, validateRow } from '../reading/generated/validate-summary.js';
import { isObject } from '../reading/yaml/field.ts';
import { shown } from '../reading/yaml/values.ts';
import type { BatchRow } from '../writing/batch/batch-row.ts';
import { SUMMARY_FORMAT } from '../writing/batch/batch-summary.ts';
import { folded, folderNameFault } from './package-names.ts';

export interface ShardSummary {
  readonly folder: string;
  readonly version: string;
  readonly batch: string;
  readonly total: number;
  readonly rows: readonly BatchRow[];
}

/** Faults that are told of all shards together; the rest are counted. */
const MOST_FAULTS = 20;

const NOT_A_SUMMARY = 'name the folders that `batch --shard` wrote';
const SPOILT = 'the file was changed; run that shard of the batch again';

/** The summaries of all shards, or everything that is wrong with them. */
export function readShardSummaries(
  folders: readonly string[],
): { readonly shards: readonly ShardSummary[] } | { readonly findings: readonly Finding[] } {
  const shards: ShardSummary[] = [];
  const findings: Finding[] = [];
  let untold = 0;
  for (const folder of folders) {
    const read = readShard(folder);
    if ('batch' in read) shards.push(read);
    else {
      const told = read.findings.slice(0, Math.max(0, MOST_FAULTS - findings.length));
      untold += read.findings.length + read.uncounted - told.length;
      findings.push(...told);
    }
  }
  if (untold > 0) {
    const message = `${untold} more faults in the summaries of the shards`;
    findings.push(errorFinding('too-many', folders.join(', '), message, 'run those shards again'));
  }
  return findings.length > 0 ? { findings } : { shards };
}

interface Unreadable {
  readonly findings: readonly Finding[];
  /** Faults that have no finding of their own. */
  readonly uncounted: number;
}

function readShard(folder: string): ShardSummary | Unreadable {
  const path = join(folder, 'summary.json');
  const fault = (message: string, hint: string): Finding =>
    errorFinding('unreadable-file', path, message, hint);
  let summary: unknown;
  try {
    summary = JSON.parse(readFileSync(path, 'utf8'));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    const finding = fault(`cannot be read: ${reason}`, 'finish that shard of the batch first');
    return { findings: [finding], uncounted: 0 };
  }
  if (!isObject(summary) || summary.format !== SUMMARY_FORMAT) {
    return { findings: [fault('is not the summary of a batch', NOT_A_SUMMARY)], uncounted: 0 };
  }
  const findings: Finding[] = [];
  let uncounted = 0;
  for (const message of faultsOf(summary)) {
    if (findings.length < MOST_FAULTS) findings.push(fault(message, SPOILT));
    else uncounted++;
  }
  if (findings.length > 0) return { findings, uncounted };
  return { ...(summary as unknown as Omit<ShardSummary, 'folder'>), folder };
}

/** In words, one after the other: a large file may have any number of them. */
function* faultsOf(summary: Readonly<Record<string, unknown>>): Generator<string> {
  if (!validateHead(summary)) for (const error of validateHead.errors ?? []) yield inWords(error, summary);
  const { rows, total } = summary;
  if (!Array.isArray(rows)) return;
  const [indices, names] = [new Set<number>(), new Set<string>()];
  for (const [k, row] of rows.entries()) {
    const named = isObject(row) && typeof row.name === 'string' ? ` (${quote(row.name)})` : '';
    for (const words of rowFaults(row, Number(total), indices, names)) yield `row ${k + 1}${named}: ${words}`;
  }
}

function* rowFaults(
  row: unknown,
  total: number,
  indices: Set<number>,
  names: Set<string>,
): Generator<string> {
  if (!validateRow(row)) {
    // What `then` says comes with faults of its own.
    for (const error of validateRow.errors ?? []) if (error.keyword !== 'if') yield inWords(error, row);
    return;
  }
  const { index, name } = row as BatchRow;
  const why = packageNameFault(name);
  if (why !== undefined) yield `\`name\` is ${shown(name)}, which ${why}`;
  if (index > total) yield `\`index\` is ${index}, but \`total\` is ${total}`;
  if (indices.has(index)) yield `\`index\` is ${index}, as in an earlier row`;
  if (names.has(folded(name))) yield `\`name\` is ${shown(name)}, as in an earlier row`;
  indices.add(index);
  names.add(folded(name));
}

/** A package's name leads nowhere but into the folder: a scenario's, or a scenario's and a case's. */
function packageNameFault(name: string): string | undefined {
  const steps = name.split('/');
  if (steps.length > 2) return 'is no package of a batch';
  return folderNameFault(steps[0]!) ?? (steps.length === 2 ? folderNameFault(steps[1]!, NONE) : undefined);
}

const NONE: ReadonlySet<string> = new Set();

function inWords({ keyword, instancePath, params, message = '' }: SchemaError, data: unknown): string {
  let value = data;
  let key = '';
  const within = (member: unknown): string => quote(key === '' ? `${member}` : `${key}.${member}`);
  for (const escaped of instancePath.split('/').slice(1)) {
    const step = escaped.replaceAll('~1', '/').replaceAll('~0', '~');
    key = Array.isArray(value) ? `${key}[${step}]` : within(step).slice(1, -1);
    value = (value as Record<string, unknown>)[step];
  }
  if (keyword === 'required') return `${within(params.missingProperty)} is missing`;
  if (keyword === 'additionalProperties')
    return `${within(params.additionalProperty)} is not a key of a summary`;
  const allowed = keyword === 'enum' ? `: ${(params.allowedValues as unknown[]).map(String).join(', ')}` : '';
  const exactly = keyword === 'const' ? `: ${JSON.stringify(params.allowedValue)}` : '';
  const what = key === '' ? 'it' : `\`${key}\``;
  return `${what} is ${shown(value)}; it ${message}${allowed}${exactly}`;
}
