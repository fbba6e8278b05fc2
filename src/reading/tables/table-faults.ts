/** What is wrong with a table in a text file: each fault with its line and column, the most of them listed, the rest counted. */
import { errorFinding, type Finding, type Place } from '../../finding/finding.ts';

/** Faults listed before the rest are only counted. */
const MOST_FAULTS = 100;

/** A stretch of one line of the text; line and first column from 0. */
export interface Spot {
  readonly line: number;
  readonly at: number;
  readonly width: number;
}

export class TableFaults {
  readonly list: Finding[] = [];
  readonly #file: string;
  #more = 0;

  constructor(file: string) {
    this.#file = file;
  }

  add(spot: Spot, message: string, hint: string): void {
    if (this.list.length >= MOST_FAULTS) {
      this.#more++;
      return;
    }
    const place = placeAt(this.#file, spot);
    this.list.push(errorFinding('bad-table', this.#file, message, hint, place));
  }

  closed(): readonly Finding[] {
    if (this.#more === 0) return this.list;
    const message = `${this.#more} more errors of the same kinds are not listed`;
    return [...this.list, errorFinding('bad-table', this.#file, message)];
  }
}

export const placeAt = (file: string, { line, at, width }: Spot): Place => ({
  file,
  line: line + 1,
  column: at + 1,
  endLine: line + 1,
  endColumn: at + 1 + Math.max(1, width),
});
