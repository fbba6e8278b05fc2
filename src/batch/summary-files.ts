/** The files that a batch writes beside its packages: the summary as a table and as JSON, and the page of all layouts. */
import { closeSync, openSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { isSystemError, notWritable, unwritable } from '../disk/not-writable.ts';
import { replaceFile } from '../disk/replace-file.ts';
import type { Finding } from '../finding/finding.ts';
import type { BatchRow } from '../writing/batch/batch-row.ts';
import { SUMMARY_FORMAT, summaryCsv } from '../writing/batch/batch-summary.ts';
import { overviewPage } from '../writing/batch/overview-page.ts';

/** Table and page are made from the JSON's rows, so that shards gathered from their JSON give the same bytes. */
export function writeSummary(out: string, summary: string): Finding | undefined {
  const { rows } = JSON.parse(summary) as { rows: readonly BatchRow[] };
  try {
    replaceFile(join(out, 'summary.csv'), summaryCsv(rows));
    replaceFile(join(out, 'overview.html'), overviewPage(rows));
    replaceFile(join(out, 'summary.json'), summary);
    return undefined;
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return unwritable(out, error);
  }
}

/** What each file is known by, however many rows it has: near its start, before any of them. */
const MARKS: Readonly<Record<string, string>> = {
  'summary.csv': 'index,name,file,case,',
  'summary.json': `"format": "${SUMMARY_FORMAT}"`,
  'overview.html': '<title>Batch: ',
};
const START_BYTES = 1024;

/** Names under `--out` that no package can have. */
export const SUMMARY_FILES: readonly string[] = Object.keys(MARKS);

/** A file of the user's in the place of one of them: named before anything is made, since it must not be replaced. */
export function foreignSummary(out: string): Finding | undefined {
  const name = Object.keys(MARKS).find((one) => startOf(join(out, one))?.includes(MARKS[one]!) === false);
  if (name === undefined) return undefined;
  return notWritable(
    out,
    `cannot be written: ${name} already exists and was not written by datumlight`,
    'move that file away or name another folder',
  );
}

/** Undefined where there is no file. */
function startOf(path: string): string | undefined {
  let file: number;
  try {
    file = openSync(path, 'r');
  } catch (error) {
    if (isSystemError(error) && error.code === 'ENOENT') return undefined;
    throw error;
  }
  try {
    const bytes = Buffer.alloc(START_BYTES);
    return bytes.toString('latin1', 0, readSync(file, bytes));
  } finally {
    closeSync(file);
  }
}
