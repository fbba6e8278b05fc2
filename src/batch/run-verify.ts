/** `--verify`: every package of a batch remade in memory and compared with the one that stands under `--out`. Writes nothing there. */
import { join } from 'node:path';
import { type BatchRow, type Figures, figuresWithout } from '../writing/batch/batch-row.ts';
import { type PackageDifference, withoutChanges } from '../writing/difference/difference-report.ts';
import { type Entry, isCase } from './case.ts';
import { type ComparedPackage, comparePackage } from './compare-package.ts';
import type { CaseTask } from './do-case.ts';
import { type BatchProgress, type BatchRequest, orphans, shareOf } from './run-batch.ts';
import { doCases } from './workers.ts';

export interface Verified {
  readonly rows: readonly BatchRow[];
  /** In the batch's order, then packages without a scenario. */
  readonly differences: readonly PackageDifference[];
  /** Old and new layout over each other, by the package's name. */
  readonly overlays: ReadonlyMap<string, string>;
  /** Packages without a difference some of whose files differ in line ends. */
  readonly converted: number;
}

export async function runVerify(
  { entries, out, making, threads, shard }: Omit<BatchRequest, 'cache' | 'cacheBound'>,
  report: (progress: BatchProgress) => void,
): Promise<Verified> {
  const { own, finish, rows } = shareOf({ entries, shard }, report);
  const differences = new Map<string, PackageDifference>();
  const overlays = new Map<string, string>();
  let converted = 0;
  const finishCompared = (entry: Entry, figures: Figures, compared: ComparedPackage | undefined): void => {
    if (compared?.difference !== undefined) differences.set(entry.name, compared.difference);
    else if (compared !== undefined && compared.converted > 0) converted++;
    if (compared?.overlay !== undefined) overlays.set(entry.name, compared.overlay);
    finish(entry, figures, 0);
  };
  const tasks: CaseTask[] = [];
  for (const entry of own) {
    if (isCase(entry)) tasks.push({ one: entry, making, out, cache: undefined, verify: true });
    else {
      const figures = figuresWithout('unusable', entry.findings);
      finishCompared(
        entry,
        figures,
        comparePackage(entry.name, join(out, entry.name), undefined, figures.says),
      );
    }
  }
  await doCases(tasks, threads, (one, { figures, compared }) => finishCompared(one, figures, compared));
  const ordered = own.flatMap(({ name }) => differences.get(name) ?? []);
  const lone = shard === undefined ? orphans(out, entries) : [];
  const orphaned = lone.map((name): PackageDifference => {
    return withoutChanges(name, 'orphaned');
  });
  return { rows: rows(), differences: [...ordered, ...orphaned], overlays, converted };
}
