/** `--verify`: every package of a batch remade in memory and compared with the one that stands under `--out`. Writes nothing there. */
import { join } from 'node:path';
import { type BatchRow, figuresWithout } from '../writing/batch/batch-row.ts';
import type { PackageDifference } from '../writing/difference/difference-report.ts';
import type { Case, Entry } from './case.ts';
import { isCase } from './case.ts';
import { comparePackage } from './compare-package.ts';
import type { CaseTask } from './do-case.ts';
import { type BatchProgress, type BatchRequest, orphans, rowOf } from './run-batch.ts';
import { belongsTo } from './shard.ts';
import { doCases } from './workers.ts';

export interface Verified {
  readonly rows: readonly BatchRow[];
  /** In the batch's order, then packages without a scenario. */
  readonly differences: readonly PackageDifference[];
  /** Old and new layout over each other, by the package's name. */
  readonly overlays: ReadonlyMap<string, string>;
}

export async function runVerify(
  { entries, out, making, threads, shard }: Omit<BatchRequest, 'cache' | 'cacheBound'>,
  report: (progress: BatchProgress) => void,
): Promise<Verified> {
  const own = entries.flatMap((entry, k) =>
    shard === undefined || belongsTo(shard, entry.name) ? [{ entry, index: k + 1 }] : [],
  );
  const indices = new Map<Entry, number>(own.map(({ entry, index }) => [entry, index]));
  const rows = new Map<Entry, BatchRow>();
  const differences = new Map<string, PackageDifference>();
  const overlays = new Map<string, string>();
  const finish = (entry: Entry, row: BatchRow): void => {
    rows.set(entry, row);
    report({ total: own.length, done: rows.size, cached: 0, row });
  };
  const tasks: CaseTask[] = [];
  for (const { entry, index } of own) {
    if (isCase(entry)) tasks.push({ one: entry, making, out, cache: undefined, verify: true });
    else {
      const { difference } = comparePackage(entry.name, join(out, entry.name), undefined);
      if (difference !== undefined) differences.set(entry.name, difference);
      finish(entry, rowOf(entry, index, figuresWithout('unusable', entry.findings)));
    }
  }
  await doCases(tasks, threads, (one: Case, { figures, compared }) => {
    if (compared?.difference !== undefined) differences.set(one.name, compared.difference);
    if (compared?.overlay !== undefined) overlays.set(one.name, compared.overlay);
    finish(one, rowOf(one, indices.get(one)!, figures));
  });
  const ordered = own.flatMap(({ entry }) => differences.get(entry.name) ?? []);
  const lone = shard === undefined ? orphans(out, entries) : [];
  const orphaned = lone.map((name): PackageDifference => {
    return { name, state: 'orphaned', files: [], editedSince: [], changes: [] };
  });
  return { rows: own.map(({ entry }) => rows.get(entry)!), differences: [...ordered, ...orphaned], overlays };
}
