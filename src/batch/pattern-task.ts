/** What the threads that trace pattern cells are given, what they answer, and under which names they leave the cells. */
import type { Scenario } from '../scenario/scenario.ts';
import type { PatternWishes } from '../writing/pattern/pattern-files.ts';
import type { CellSummary, PatternFormat } from '../writing/pattern/write-pattern.ts';

/** What a thread is given. */
export interface PatternTask {
  readonly scenario: Scenario;
  readonly wishes: PatternWishes;
  readonly folder: string;
  /** Of each cell, whether a thread has taken it (32 bits). */
  readonly taken: SharedArrayBuffer;
}

/** Takes a cell for this thread; false where another one has it. */
export const takes = (taken: Int32Array, cell: number): boolean =>
  Atomics.compareExchange(taken, cell, 0, 1) === 0;

/**
 * The cell that a thread beside the main one traces next, taken for it; undefined where all are. The main thread writes the cells in their
 * order and traces the first that is free itself: that one is left to it, unless it is the last.
 */
export function takenBeside(taken: Int32Array): number | undefined {
  for (;;) {
    const first = taken.indexOf(0);
    if (first < 0) return undefined;
    const second = taken.indexOf(0, first + 1);
    const cell = second < 0 ? first : second;
    if (takes(taken, cell)) return cell;
  }
}

/** `summary`: undefined where the cell could not be made. */
export interface Answer {
  readonly cell: number;
  readonly summary: CellSummary | undefined;
}

export const cellFile = (cell: number, format: PatternFormat): string => `cell-${cell}.${format}`;
