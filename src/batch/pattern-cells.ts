/**
 * The cells of pattern files traced side by side, each by the next free thread, into files of their own in a spool. A thread has the design
 * from the scenario, as the same program makes it, and so the same bytes.
 */
import { closeSync, openSync, readSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parentPort, Worker } from 'node:worker_threads';
import { type Design, patternsOf } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import { periodFloor } from '../design/period-range.ts';
import { Spool } from '../disk/spool.ts';
import { areaOf } from '../geometry/extent.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { MadeCell, PatternWishes } from '../writing/pattern/pattern-files.ts';
import { type CellSummary, type PatternFormat, PatternWriter } from '../writing/pattern/write-pattern.ts';

/** What a thread is told once. */
interface PatternTask {
  readonly pattern: {
    readonly scenario: Scenario;
    readonly wishes: PatternWishes;
    readonly folder: string;
  };
}
type Answer = { readonly cell: number; readonly summary: CellSummary } | { readonly failed: string };

/** Threads at the most: each takes some 60 MB, and the disk is one. */
const MOST_THREADS = 8;
/** Of pattern lines, mm: below this a pattern is traced before a thread has started. */
const WORTH_THREADS = 3e5;
const PIECE = 1 << 20;

/**
 * All cells in their order; undefined where one thread does as well, or where a thread fails: then they are traced in this one, which says
 * what is wrong.
 */
export async function cellsOnThreads(
  design: Design,
  wishes: PatternWishes,
  spool: Spool,
  threads: number,
): Promise<readonly MadeCell[] | undefined> {
  const patterns = patternsOf(wishes.main ? design : { patches: design.patches }).map(
    ({ pattern }) => pattern,
  );
  const lines = patterns.reduce((sum, one) => sum + areaOf(one.outline) / periodFloor(one), 0) / wishes.every;
  const lanes = Math.min(threads, MOST_THREADS, patterns.length);
  if (lanes < 2 || wishes.formats.length === 0 || lines < WORTH_THREADS) return undefined;
  const { folder } = spool;
  const summaries = new Array<CellSummary | undefined>(patterns.length);
  let next = 0;
  let failed = false;
  const lane = (): Promise<void> =>
    new Promise((resolve) => {
      const worker = new Worker(new URL('./pattern-worker.cjs', import.meta.url));
      const end = (): void => void worker.terminate().then(() => resolve());
      const fail = (): void => {
        failed = true;
        end();
      };
      const give = (): void => {
        if (failed || next >= patterns.length) end();
        else worker.postMessage(next++);
      };
      worker.on('error', fail).on('message', (answer: Answer) => {
        if ('failed' in answer) return fail();
        summaries[answer.cell] = answer.summary;
        give();
      });
      worker.postMessage({ pattern: { scenario: design.scenario, wishes, folder } } satisfies PatternTask);
      give();
    });
  await Promise.all(Array.from({ length: lanes }, lane));
  if (failed || summaries.includes(undefined)) return undefined;
  return summaries.map((summary, cell) => ({
    summary: summary!,
    pieces: (format) => piecesOf(join(folder, nameOf(cell, format))),
  }));
}

const nameOf = (cell: number, format: PatternFormat): string => `cell-${cell}.${format}`;

/** The file's bytes; it is gone afterwards. */
function* piecesOf(path: string): Generator<Uint8Array> {
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const piece = new Uint8Array(PIECE);
      const read = readSync(file, piece);
      if (read === 0) break;
      yield piece.subarray(0, read);
    }
  } finally {
    closeSync(file);
  }
  rmSync(path);
}

/** What a thread does: told of a pattern once, it makes one cell after the other as it is asked. */
export function servePatternCells(): void {
  let make: ((cell: number) => CellSummary) | undefined;
  parentPort?.on('message', (message: PatternTask | number) => {
    try {
      if (typeof message === 'number') {
        const summary = make!(message);
        parentPort?.postMessage({ cell: message, summary } satisfies Answer);
      } else make = cellMaker(message);
    } catch (error) {
      parentPort?.postMessage({ failed: String(error) } satisfies Answer);
    }
  });
}

function cellMaker({ pattern: { scenario, wishes, folder } }: PatternTask): (cell: number) => CellSummary {
  const made = designScenario(scenario);
  if (!('design' in made)) throw new Error('a scenario that was designed before is no more');
  const { design } = made;
  const spool = Spool.within(folder);
  return (cell) => {
    const outputs = wishes.formats.map((format) => ({ format, sink: spool.sink(nameOf(cell, format)) }));
    const writer = new PatternWriter(design, wishes, outputs);
    const summary = writer.cell(cell);
    writer.flush();
    for (const { format } of outputs) spool.content(nameOf(cell, format), '');
    return summary;
  };
}
