/**
 * The cells of pattern files traced side by side, by threads (pattern-thread.ts) beside the main one, which traces too and takes up all of
 * them in their order.
 */
import { closeSync, openSync, readSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Design } from '../design/design.ts';
import { periodFloor } from '../design/period-range.ts';
import { isSystemError } from '../disk/not-writable.ts';
import type { Spool } from '../disk/spool.ts';
import { areaOf } from '../geometry/extent.ts';
import type { MadeCell, PatternWishes } from '../writing/pattern/pattern-files.ts';
import { patternsIn } from '../writing/pattern/pattern-notes.ts';
import type { CellSummary } from '../writing/pattern/write-pattern.ts';
import { type Answer, cellFile, type PatternTask, takes } from './pattern-task.ts';

export interface CellsUnderWay {
  /** To be asked in order. Undefined where the cell is to be made in this thread: none has taken it, or one has failed, and this one says why. */
  readonly cell: (index: number) => Promise<MadeCell | undefined>;
  /** Ends the threads. */
  readonly stop: () => Promise<void>;
}

/** Threads at the most: each takes some 60 MB, and the disk is one. */
const MOST_THREADS = 8;
/** Of pattern lines, mm: below this a pattern is traced before a thread has started. */
const WORTH_THREADS = 3e5;
/** Of short-lived objects that a thread keeps before it clears up, MiB: V8's own 48 would be most of what it takes. */
const YOUNG_MB = 8;
const PIECE = 1 << 18;

/** All cells, begun at once, while this thread does something else; undefined where one thread does as well, or the spool cannot be written to. */
export function cellsUnderWay(
  design: Design,
  wishes: PatternWishes,
  spool: Spool,
  threads: number,
): CellsUnderWay | undefined {
  const patterns = patternsIn(design, wishes);
  const lines = patterns.reduce((sum, one) => sum + areaOf(one.outline) / periodFloor(one), 0) / wishes.every;
  const lanes = Math.min(threads, MOST_THREADS, patterns.length);
  if (lanes < 2 || wishes.formats.length === 0 || lines < WORTH_THREADS) return undefined;
  const folder = folderOf(spool);
  if (folder === undefined) return undefined;
  const answers = new Answers(patterns.length);
  const taken = new Int32Array(new SharedArrayBuffer(patterns.length * Int32Array.BYTES_PER_ELEMENT));
  const task: PatternTask = { scenario: design.scenario, wishes, folder, taken: taken.buffer };
  let running = lanes - 1;
  const workers = Array.from({ length: running }, () => {
    const worker = new Worker(new URL('./pattern-worker.cjs', import.meta.url), {
      workerData: task,
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
    });
    return worker
      .on('message', ({ cell, summary }: Answer) => answers.give(cell, summary))
      .on('error', () => undefined)
      .on('exit', () => {
        if (--running === 0) answers.giveUp();
      });
  });
  return {
    cell: async (index) => {
      if (takes(taken, index)) return undefined;
      const summary = await answers.of(index);
      return summary && { summary, pieces: (format) => piecesOf(join(folder, cellFile(index, format))) };
    },
    stop: async () => void (await Promise.all(workers.map((worker) => worker.terminate()))),
  };
}

/** Where the system lets no folder be made, the main thread meets that as well, and says so. */
function folderOf(spool: Spool): string | undefined {
  try {
    return spool.folder;
  } catch (error) {
    if (isSystemError(error)) return undefined;
    throw error;
  }
}

/** What the threads have answered of each cell, or will. */
class Answers {
  readonly #waits: readonly Promise<CellSummary | undefined>[];
  readonly #settle: ((summary: CellSummary | undefined) => void)[] = [];

  constructor(cells: number) {
    this.#waits = Array.from(
      { length: cells },
      () => new Promise((resolve) => void this.#settle.push(resolve)),
    );
  }

  of(cell: number): Promise<CellSummary | undefined> {
    return this.#waits[cell]!;
  }

  give(cell: number, summary: CellSummary | undefined): void {
    this.#settle[cell]!(summary);
  }

  /** No thread is left: what has not come will not. */
  giveUp(): void {
    for (const settle of this.#settle) settle(undefined);
  }
}

/** The file's bytes, each piece good until the next is asked for; it is gone afterwards. */
function* piecesOf(path: string): Generator<Uint8Array> {
  const file = openSync(path, 'r');
  try {
    const piece = new Uint8Array(PIECE);
    for (;;) {
      const read = readSync(file, piece);
      if (read === 0) break;
      yield piece.subarray(0, read);
    }
  } finally {
    closeSync(file);
  }
  rmSync(path);
}
