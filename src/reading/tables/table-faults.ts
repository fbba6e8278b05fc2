/** What is wrong with a table in a text file: each fault with its line and column, the most of them listed, the rest counted. */
import type { Finding, Place } from '../../finding/finding.ts';

/** Faults listed before the rest are only counted. */
const MOST_FAULTS = 100;

/** Collects faults by line (from 0), column (from 0) and width. */
export class TableFaults {
  readonly list: Finding[] = [];
  readonly #file: string;
  #more = 0;

  constructor(file: string) {
    this.#file = file;
  }

  add(line: number, column: number, width: number, message: string, hint: string): void {
    if (this.list.length >= MOST_FAULTS) {
      this.#more++;
      return;
    }
    const place = placeAt(this.#file, line, column, width);
    this.list.push({ severity: 'error', rule: 'bad-table', where: this.#file, message, hint, place });
  }

  closed(): readonly Finding[] {
    if (this.#more === 0) return this.list;
    const message = `${this.#more} more errors of the same kinds are not listed`;
    return [...this.list, { severity: 'error', rule: 'bad-table', where: this.#file, message }];
  }
}

/** From line and column counted from 0. */
export const placeAt = (file: string, line: number, column: number, width: number): Place => ({
  file,
  line: line + 1,
  column: column + 1,
  endLine: line + 1,
  endColumn: column + 1 + Math.max(1, width),
});
