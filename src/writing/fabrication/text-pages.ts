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
/** Widths of the names of facts and of what they stand for. */
const FACTS = [0.22 * WIDTH, 0.78 * WIDTH] as const;
/** Lines that a heading keeps with it. */
const KEPT = 4;

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
        for (const [k, item] of block.items.entries()) this.lines(`${k + 1}. ${item}`, TEXT);
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

  lines(text: string, size: number): void {
    for (const line of this.#wrapped(text, WIDTH, size)) {
      this.#room(size * LEADING);
      this.#y += size * LEADING;
      this.#put({ text: line, x: LEFT, y: this.#y, size });
    }
    this.#y += 0.4 * size;
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
    if (this.#y + height <= BOTTOM) return false;
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
    if (heads !== undefined) this.#row(heads, columns, numeric);
    else this.#rule(0.3);
    for (const row of rows) {
      const cells = this.#cells(row, columns);
      const height = Math.max(...cells.map(({ length }) => length)) * TABLE * LEADING + 2 * PADDING;
      if (this.#room(Math.min(height, BOTTOM - TOP - 60)) && heads !== undefined)
        this.#row(heads, columns, numeric);
      this.#row(row, columns, numeric);
    }
    this.#y += TABLE;
  }

  #cells(row: Row, columns: readonly number[]): string[][] {
    return row.map((cell, k) => this.#wrapped(cell, columns[k]! - GUTTER, TABLE));
  }

  #row(row: Row, columns: readonly number[], numeric: readonly number[]): void {
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
    this.#rule(0.3);
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
