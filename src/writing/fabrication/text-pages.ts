/**
 * Blocks of text set on pages: lines, tables and rules with their places, in points from the top left corner of A4. The text keeps within what
 * Letter prints too. Knows no file format; `Measure` says how wide a text is.
 */
import type { Block, Row } from './blocks.ts';

/** Width of a text of size 1. */
type Measure = (text: string) => number;

export type Mark =
  | { readonly text: string; readonly x: number; readonly y: number; readonly size: number }
  /** A horizontal line. */
  | { readonly from: number; readonly to: number; readonly y: number; readonly thick: number };

/** Points: A4; its sides, and where the text begins and ends: within 279 mm, the height of Letter. */
export const PAPER = { width: 595.28, height: 841.89 } as const;
const LEFT = 40;
const WIDTH = PAPER.width - 2 * LEFT;
const TOP = 50;
const BOTTOM = 738;

const TEXT = 9;
const TABLE = 8;
const HEADING = 12.5;
const BANNER = 15;
/** From base line to base line, in sizes. */
const LEADING = 1.3;
/** Between columns, and above and below a row. */
const GUTTER = 8;
const PADDING = 2.5;
/** Under a row, and under the heads of a table. */
const ROW_RULE = 0.3;
const HEAD_RULE = 0.8;
/** Widths of the names of facts and of what they stand for. */
const FACTS = [0.22 * WIDTH, 0.78 * WIDTH] as const;
/** Lines that a heading keeps with it: a sentence, and the first rows of a table. */
const KEPT = 9;
/** A table lower than this share of a page is not divided; of another one, two rows at the least stand together. */
const WHOLE = 0.3;
/** Of the text of a step, behind its number. */
const INDENT = 14;

export class TextPages {
  readonly pages: Mark[][] = [[]];
  readonly #width: Measure;
  #y = TOP;

  constructor(measure: Measure) {
    this.#width = measure;
  }

  block(block: Block): void {
    switch (block.is) {
      case 'heading':
        this.#heading(block.text);
        break;
      case 'banner':
        this.#rule(1.5);
        this.lines(block.text, BANNER);
        this.#rule(1.5);
        break;
      case 'paragraph':
        this.lines(block.text, TEXT);
        break;
      case 'steps':
        for (const [k, item] of block.items.entries()) this.#step(`${k + 1}.`, item);
        break;
      case 'facts':
        this.#table(undefined, block.rows, [], FACTS);
        break;
      case 'table':
        this.#table(block.heads, block.rows, block.numeric ?? [], this.#columns(block));
        break;
    }
  }

  #heading(text: string): void {
    this.#y += HEADING;
    this.#room((HEADING + KEPT * TEXT) * LEADING);
    this.#rule(1);
    this.lines(text, HEADING);
  }

  lines(text: string, size: number, indent = 0): void {
    for (const line of this.#wrapped(text, WIDTH - indent, size)) {
      this.#room(size * LEADING);
      this.#y += size * LEADING;
      this.#put({ text: line, x: LEFT + indent, y: this.#y, size });
    }
    this.#y += 0.4 * size;
  }

  #step(number: string, text: string): void {
    this.#room(this.#wrapped(text, WIDTH - INDENT, TEXT).length * TEXT * LEADING);
    this.#put({ text: number, x: LEFT, y: this.#y + TEXT * LEADING, size: TEXT });
    this.lines(text, TEXT, INDENT);
  }

  /** Each page’s head and foot. */
  margins(head: string, foot: string): void {
    for (const [k, page] of this.pages.entries()) {
      const number = `page ${k + 1} of ${this.pages.length}`;
      const right = LEFT + WIDTH - this.#width(number) * TABLE;
      page.push({ text: this.#wrapped(head, WIDTH, TABLE)[0]!, x: LEFT, y: TOP - 12, size: TABLE });
      page.push({ text: foot, x: LEFT, y: BOTTOM + 24, size: 7 });
      page.push({ text: number, x: right, y: BOTTOM + 24, size: TABLE });
    }
  }

  #put(mark: Mark): void {
    this.pages.at(-1)!.push(mark);
  }

  #rule(thick: number): void {
    this.#put({ from: LEFT, to: LEFT + WIDTH, y: this.#y, thick });
  }

  /** Turns the page where `height` does not fit under the last line. */
  #room(height: number): boolean {
    if (this.#y === TOP || this.#y + height <= BOTTOM) return false;
    this.pages.push([]);
    this.#y = TOP;
    return true;
  }

  #table(
    heads: Row | undefined,
    rows: readonly Row[],
    numeric: readonly number[],
    columns: readonly number[],
  ): void {
    const most = BOTTOM - TOP - 60;
    const heights = rows.map((row) => Math.min(this.#height(row, columns), most));
    const sum = (of: readonly number[]): number => of.reduce((a, b) => a + b, 0);
    const head = heads === undefined ? 0 : this.#height(heads, columns);
    const whole = head + sum(heights);
    this.#room(Math.min(most, whole < WHOLE * most ? whole : head + sum(heights.slice(0, 2))));
    const setHead = (): void => {
      if (heads !== undefined) this.#row(heads, columns, numeric, HEAD_RULE);
    };
    if (heads === undefined) this.#rule(ROW_RULE);
    setHead();
    for (const [k, row] of rows.entries()) {
      const together = k === rows.length - 2 ? heights.slice(k) : [heights[k]!];
      if (this.#room(Math.min(most, sum(together)))) setHead();
      this.#row(row, columns, numeric, ROW_RULE);
    }
    this.#y += TABLE;
  }

  #height(row: Row, columns: readonly number[]): number {
    const count = Math.max(...this.#cells(row, columns).map(({ length }) => length));
    return count * TABLE * LEADING + 2 * PADDING + 1;
  }

  #cells(row: Row, columns: readonly number[]): string[][] {
    return row.map((cell, k) => this.#wrapped(cell, columns[k]! - GUTTER, TABLE));
  }

  #row(row: Row, columns: readonly number[], numeric: readonly number[], rule: number): void {
    const cells = this.#cells(row, columns);
    const count = Math.max(...cells.map(({ length }) => length));
    this.#y += PADDING;
    for (let line = 0; line < count; line++) {
      this.#room(TABLE * LEADING);
      this.#y += TABLE * LEADING;
      let left = LEFT;
      for (const [k, lines] of cells.entries()) {
        const text = lines[line];
        const spare = columns[k]! - GUTTER - this.#width(text ?? '') * TABLE;
        const x = numeric.includes(k) ? left + spare : left;
        if (text !== undefined) this.#put({ text, x, y: this.#y, size: TABLE });
        left += columns[k]!;
      }
    }
    this.#y += PADDING + 1;
    this.#rule(rule);
  }

  /** Each column as wide as its words need, and of what is left as much as its texts would fill. */
  #columns({ heads, rows }: { readonly heads: Row; readonly rows: readonly Row[] }): readonly number[] {
    const wide = (texts: readonly string[]): number =>
      Math.max(...texts.map((text) => this.#width(text) * TABLE)) + GUTTER + 0.5;
    const texts = heads.map((head, k) => [head, ...rows.map((row) => row[k]!)]);
    const whole = texts.map(wide);
    const least = texts.map((own) => wide(own.flatMap((text) => text.split(' '))));
    const sum = (lengths: readonly number[]): number => lengths.reduce((a, b) => a + b, 0);
    if (sum(least) >= WIDTH) return least.map((own) => (own * WIDTH) / sum(least));
    const wanted = whole.map((own, k) => own - least[k]!);
    const share = Math.min(1, (WIDTH - sum(least)) / (sum(wanted) || 1));
    return least.map((own, k) => own + share * wanted[k]!);
  }

  /** Broken at spaces, and within a word that is wider than the line. */
  #wrapped(text: string, width: number, size: number): string[] {
    const fits = (line: string): boolean => this.#width(line) * size <= width;
    const lines: string[] = [];
    let line = '';
    for (const word of text.split(' ')) {
      if (line !== '' && fits(`${line} ${word}`)) {
        line = `${line} ${word}`;
        continue;
      }
      if (line !== '') lines.push(line);
      line = word;
      while (!fits(line)) {
        const letters = [...line];
        let count = letters.length - 1;
        while (count > 1 && !fits(letters.slice(0, count).join(''))) count--;
        if (count < 1) break;
        lines.push(letters.slice(0, count).join(''));
        line = letters.slice(count).join('');
      }
    }
    return [...lines, line];
  }
}
