/**
 * What a thread does that traces cells of pattern files: one cell after the other, of those that no other thread has taken, into files of
 * their own in a spool. Bundled by itself, so that a thread starts fast and takes little memory. It has the design from the scenario, as the
 * same program makes it, and so the same bytes.
 */
import { parentPort, workerData } from 'node:worker_threads';
import { designScenario } from '../design/design-scenario.ts';
import { Spool } from '../disk/spool.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { ByteSink } from '../writing/manifest.ts';
import type { PatternWishes } from '../writing/pattern/pattern-files.ts';
import { type CellSummary, PatternWriter } from '../writing/pattern/write-pattern.ts';
import { type Answer, cellFile, type PatternTask, takenBeside } from './pattern-task.ts';

serve(workerData as PatternTask);

function serve({ scenario, wishes, folder, taken }: PatternTask): void {
  const all = new Int32Array(taken);
  const make = cellMaker(scenario, wishes, folder);
  for (;;) {
    const cell = takenBeside(all);
    if (cell === undefined) return;
    parentPort!.postMessage({ cell, summary: madeOrNot(make, cell) } satisfies Answer);
  }
}

function madeOrNot(make: (cell: number) => CellSummary, cell: number): CellSummary | undefined {
  try {
    return make(cell);
  } catch {
    return undefined;
  }
}

function cellMaker(scenario: Scenario, wishes: PatternWishes, folder: string): (cell: number) => CellSummary {
  const made = designScenario(scenario);
  if (!('design' in made)) throw new Error('a scenario that was designed before is no more');
  const { design } = made;
  const spool = Spool.within(folder);
  let sinks: readonly ByteSink[] = [];
  const outputs = wishes.formats.map((format, k) => ({
    format,
    sink: (bytes: Uint8Array) => sinks[k]!(bytes),
  }));
  const writer = new PatternWriter(design, wishes, outputs);
  return (cell) => {
    sinks = wishes.formats.map((format) => spool.sink(cellFile(cell, format)));
    const summary = writer.cell(cell);
    writer.flush();
    for (const format of wishes.formats) spool.content(cellFile(cell, format), '');
    return summary;
  };
}
