/** What the threads that trace pattern cells are given, what they answer, and under which names they leave the cells. */
import type { Scenario } from '../scenario/scenario.ts';
import type { PatternWishes } from '../writing/pattern/pattern-files.ts';
import type { CellSummary, PatternFormat } from '../writing/pattern/write-pattern.ts';

/** What a thread is given. */
export interface PatternTask {
  readonly scenario: Scenario;
  readonly wishes: PatternWishes;
  readonly folder: string;
  readonly cells: number;
  /** The next cell that no thread has taken: one number of 32 bits. */
  readonly next: SharedArrayBuffer;
}
/** `summary`: undefined where the cell could not be made. */
export interface Answer {
  readonly cell: number;
  readonly summary: CellSummary | undefined;
}

export const cellFile = (cell: number, format: PatternFormat): string => `cell-${cell}.${format}`;
