/**
 * A ruled table of the drawing: a head and rows of text, each cell wrapped to its column, in blocks side by side where it
 * is too tall for one. mm; it hangs from its top left corner.
 */
import type { Vec2 } from '../../../geometry/vector.ts';
import { type Align, type Item, type Line, levelLine, lineCurves, uprightLine } from '../drawing.ts';
import { roomFor, textAt, wrapped } from '../lettering.ts';

export interface Column {
  /** Lines of the head. */
  readonly head: readonly string[];
  readonly align: Align;
  /** Widest the column's text may be, in text heights. */
  readonly widest: number;
}

/** A table measured and wrapped, ready to be drawn anywhere. */
export interface TableLayout {
  readonly columns: readonly Column[];
  /** Of the columns, padding included. */
  readonly widths: readonly number[];
  readonly rows: readonly (readonly (readonly string[])[])[];
  readonly blocks: readonly { readonly from: number; readonly to: number; readonly height: number }[];
  readonly blockWidth: number;
  readonly width: number;
  readonly height: number;
  readonly text: number;
}

/** In text heights: base line to base line, room beside a text, room above and below a row's text, between blocks. */
const LINE = 1.5;
const BESIDE = 0.45;
const ABOVE = 0.15;
const BETWEEN_BLOCKS = 2;

/** `tallest`: no block is taller than this, unless by its head and one row. */
export function layTable(
  columns: readonly Column[],
  cells: readonly (readonly string[])[],
  text: number,
  tallest: number,
): TableLayout {
  const rows = cells.map((row) =>
    row.map((cell, index) => wrapped(cell, text, columns[index]!.widest * text)),
  );
  const widths = columns.map(({ head }, index) => {
    const lines = [...head, ...rows.flatMap((row) => row[index]!)];
    return Math.max(...lines.map((line) => roomFor(line, text))) + 2 * BESIDE * text;
  });
  const head = heightOf(
    columns.map((column) => column.head),
    text,
  );
  const blocks: { from: number; to: number; height: number }[] = [{ from: 0, to: 0, height: head }];
  for (const row of rows) {
    const height = heightOf(row, text);
    let block = blocks.at(-1)!;
    if (block.to > block.from && block.height + height > tallest) {
      block = { from: block.to, to: block.to, height: head };
      blocks.push(block);
    }
    block.to += 1;
    block.height += height;
  }
  const blockWidth = widths.reduce((sum, width) => sum + width, 0);
  return {
    columns,
    widths,
    rows,
    blocks,
    blockWidth,
    width: blocks.length * (blockWidth + BETWEEN_BLOCKS * text) - BETWEEN_BLOCKS * text,
    height: Math.max(...blocks.map((block) => block.height)),
    text,
  };
}

export function tableItems(table: TableLayout, [left, top]: Vec2): Item[] {
  return table.blocks.flatMap((block, index) =>
    blockItems(table, block, [left + index * (table.blockWidth + BETWEEN_BLOCKS * table.text), top]),
  );
}

function blockItems(table: TableLayout, block: TableLayout['blocks'][number], [left, top]: Vec2): Item[] {
  const { columns, widths, text } = table;
  const right = left + table.blockWidth;
  const items: Item[] = [];
  const rules: Line[] = [];
  let y = top;
  for (const cells of [columns.map(({ head }) => head), ...table.rows.slice(block.from, block.to)]) {
    rules.push(levelLine(left, right, y));
    let x = left;
    for (const [index, lines] of cells.entries()) {
      const width = widths[index]!;
      const { align } = columns[index]!;
      const at = { left: x + BESIDE * text, centre: x + width / 2, right: x + width - BESIDE * text }[align];
      for (const [k, line] of lines.entries()) {
        if (line !== '') items.push(textAt(line, [at, y - (ABOVE + 1.15 + k * LINE) * text], text, align));
      }
      x += width;
    }
    y -= heightOf(cells, text);
  }
  rules.push(levelLine(left, right, y));
  let x = left;
  for (const width of [0, ...widths]) {
    x += width;
    rules.push(uprightLine(x, top, y));
  }
  return [lineCurves(...rules), ...items];
}

const heightOf = (cells: readonly (readonly string[])[], text: number): number =>
  (Math.max(...cells.map((lines) => lines.length)) * LINE + 2 * ABOVE) * text;
