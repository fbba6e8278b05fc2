/** The independent rule check of a pattern file: klayout's, by read of rule-check.py. */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { program } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';

export interface CellCheck {
  readonly polygons: number;
  /** Vertices of a polygon at the most. */
  readonly most: number;
  /** Polygons that stand there twice, and those that cross or overlap themselves. */
  readonly twice: number;
  readonly strange: number;
  /** Covered by two polygons, as written and sized outward by 20 nm each; square database units. */
  readonly overlapping: number;
  readonly sizedOverlap: number;
  /** Lines and spaces under the least width, off the edge of the pattern. */
  readonly narrow: number;
  readonly close: number;
}

export const klayout = program('klayout');

/** By cell; `least` in database units. */
export function ruleCheck(bytes: Uint8Array, least: number): Readonly<Record<string, CellCheck>> {
  const folder = temporaryFolder();
  const [file, out] = [join(folder, 'pattern.gds'), join(folder, 'found.json')];
  writeFileSync(file, bytes);
  const script = join(dirname(fileURLToPath(import.meta.url)), 'rule-check.py');
  const run = spawnSync(
    klayout!,
    ['-b', '-r', script, '-rd', `file=${file}`, '-rd', `least=${least}`, '-rd', `out=${out}`],
    { encoding: 'utf8', env: { ...process.env, QT_QPA_PLATFORM: 'offscreen' } },
  );
  if (run.status !== 0) throw new Error(`${run.stderr}${run.status}`);
  return JSON.parse(readFileSync(out, 'utf8'));
}
