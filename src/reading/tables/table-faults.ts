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

  /** All of them, those that are only counted included. */
  get count(): number {
    return this.list.length + this.#more;
  }

  add(spot: Spot, message: string, hint: string): void {
    this.say('bad-table', this.#file, placeAt(this.#file, spot), message, hint);
  }

  /** A table that goes on past what is read of one. */
  tooMany(spot: Spot, message: string, hint: string): void {
    this.list.unshift(errorFinding('too-many', this.#file, message, hint, placeAt(this.#file, spot)));
  }

  /** A fault with a code of its own. */
  say(rule: Finding['rule'], where: string, place: Place, message: string, hint: string): void {
    if (this.list.length >= MOST_FAULTS) {
      this.#more++;
      return;
    }
    this.list.push(errorFinding(rule, where, message, hint, place));
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
