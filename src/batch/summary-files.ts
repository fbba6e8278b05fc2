/** The files that a batch writes beside its packages: the summary as a table and as JSON, and the page of all layouts. */
import { join } from 'node:path';
import { notWritable } from '../disk/not-writable.ts';
import { knownByHead, type OutputFile, refusedForeign } from '../disk/output-places.ts';
import { placeFiles } from '../disk/place-files.ts';
import type { Finding } from '../finding/finding.ts';
import type { BatchRow } from '../writing/batch/batch-row.ts';
import { SUMMARY_FORMAT, summaryCsv } from '../writing/batch/batch-summary.ts';
import { overviewPage } from '../writing/batch/overview-page.ts';

/**
 * Table and page are made from the JSON's rows, so that shards gathered from their JSON give the same bytes. All three or none. Comes
 * back with the errors, or with warnings of what could not be cleared up.
 */
export function writeSummary(out: string, summary: string): readonly Finding[] {
  const { rows } = JSON.parse(summary) as { rows: readonly BatchRow[] };
  const contents: Readonly<Record<string, string>> = {
    'summary.csv': summaryCsv(rows),
    'overview.html': overviewPage(rows),
    'summary.json': summary,
  };
  return placeFiles(summaryFiles(out).map((file) => ({ ...file, content: contents[file.name]! })));
}

/** What each file is known by, however many rows it has: near its start, before any of them. */
const MARKS: Readonly<Record<string, string>> = {
  'summary.csv': 'index,name,file,case,',
  'summary.json': `"format": "${SUMMARY_FORMAT}"`,
  'overview.html': '<title>Batch: ',
};

const summaryFiles = (out: string): readonly (OutputFile & { readonly name: string })[] =>
  Object.entries(MARKS).map(([name, mark]) => {
    return {
      name,
      option: '--out',
      path: join(out, name),
      isOwn: knownByHead((head) => head.includes(mark)),
    };
  });

/** Names under `--out` that no package can have. */
export const SUMMARY_FILES: readonly string[] = Object.keys(MARKS);

/** A file of the user's in the place of one of them: named before anything is made, since it must not be replaced. */
export function foreignSummary(out: string): Finding | undefined {
  const foreign = summaryFiles(out).find((file) => refusedForeign(file) !== undefined);
  if (foreign === undefined) return undefined;
  return notWritable(
    out,
    `cannot be written: ${foreign.name} already exists and was not written by datumlight`,
    'move that file away or name another folder',
  );
}
