/** Where a record is written: never over another record, the package, an input, or a file of the user's. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { withUnixLineEnds } from '../../disk/line-ends.ts';
import { knownByText, type OutputFile, refusedFiles, refusedFolder } from '../../disk/output-places.ts';
import { placeOf } from '../../disk/where-leading.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { isUnchanged } from '../../writing/record/alignment-record.ts';
import type { AlignmentRecord } from '../../writing/record/record-form.ts';
import { isRecordPage } from '../../writing/record/record-html.ts';

export const recordAt = (folder: string): readonly OutputFile[] => [
  { option: '--out', path: join(folder, 'record.json'), isOwn: knownByText(isOwnRecord) },
  {
    option: '--out',
    path: join(folder, 'record.html'),
    isOwn: knownByText((text) => isRecordPage(withUnixLineEnds(text))),
  },
];

/** Why nothing can be written there; with `record`, also where the record of another alignment stands. */
export function refusedRecord(
  folder: string,
  packageFolder: string,
  inputs: readonly string[],
  record?: AlignmentRecord,
): readonly Finding[] {
  const misplaced = refusedFolder('--out', folder, inputs);
  if (misplaced !== undefined) return [misplaced];
  if (placeOf(folder) === placeOf(packageFolder)) {
    const message = `${folder} is the package, which a record never changes`;
    return [errorFinding('bad-value', '--out', message, 'name a folder of its own for the record')];
  }
  const foreign = refusedFiles(recordAt(folder), inputs);
  if (foreign.length > 0 || record === undefined) return foreign;
  const other = standingRecord(folder);
  if (other === undefined || other.sha256 === record.sha256) return [];
  const message = `${folder} holds another record, of hologram ${other.serial}, ${other.date}`;
  return [errorFinding('output-exists', '--out', message, 'name another folder: a record is not replaced')];
}

function standingRecord(folder: string): AlignmentRecord | undefined {
  try {
    return JSON.parse(readFileSync(join(folder, 'record.json'), 'utf8')) as AlignmentRecord;
  } catch {
    return undefined;
  }
}

function isOwnRecord(text: string): boolean {
  try {
    return isUnchanged(withUnixLineEnds(text));
  } catch {
    return false;
  }
}
