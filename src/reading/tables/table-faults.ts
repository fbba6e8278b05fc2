/** What is wrong with a table in a text file: each fault with its line and column, the most of them listed, the rest counted by code. */
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding, type Place } from '../../finding/finding.ts';
import { moreFindings } from '../../finding/listed-findings.ts';

/** Faults listed before the rest are only counted; the first of each code is always listed. */
const MOST_FAULTS = 100;

/** A stretch of one line of the text; line and first column from 0. */
export interface Spot {
  readonly line: number;
  readonly at: number;
  readonly width: number;
  /** The line: a long table is not kept, and its lines may end where another reader's do not. */
  readonly lineText: string;
}

export class TableFaults {
  readonly #file: string;
  readonly #list: Finding[] = [];
  readonly #codes = new Set<Code>();
  readonly #more = new Map<string, number>();
  #count = 0;

  constructor(file: string) {
    this.#file = file;
  }

  /** Of all faults, listed or not. */
  get count(): number {
    return this.#count;
  }

  /** `where` is what the fault is about, the file if nothing else is said. */
  add(spot: Spot, message: string, hint: string, code: Code = 'bad-table', where = this.#file): void {
    this.#count++;
    if (this.#list.length >= MOST_FAULTS && this.#codes.has(code)) {
      this.#more.set(code, (this.#more.get(code) ?? 0) + 1);
      return;
    }
    this.#codes.add(code);
    this.#list.push(errorFinding(code, where, message, hint, placeAt(this.#file, spot)));
  }

  closed(): readonly Finding[] {
    return this.#more.size === 0
      ? this.#list
      : [...this.#list, moreFindings(this.#file, 'error', this.#more)];
  }
}

export const placeAt = (file: string, { line, at, width, lineText }: Spot): Place => ({
  file,
  line: line + 1,
  column: at + 1,
  endLine: line + 1,
  endColumn: at + 1 + Math.max(1, width),
  lineText,
});
