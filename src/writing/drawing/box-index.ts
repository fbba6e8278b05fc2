/**
 * What stands where on a drawing, found by box: a grid of square cells, each with the things whose boxes reach into it. Things
 * may be added at any time, which the captions placed one after the other need. mm.
 */
import type { Box } from './drawing.ts';

export class BoxIndex<Thing extends { readonly box: Box }> {
  readonly #cell: number;
  readonly #cells = new Map<number, Map<number, Thing[]>>();

  /** `cell`: side of a cell, of the order of the boxes asked for. */
  constructor(cell: number, things: Iterable<Thing> = []) {
    this.#cell = cell;
    for (const thing of things) this.add(thing);
  }

  add(thing: Thing): void {
    const [left, right, bottom, top] = this.#range(thing.box);
    for (let x = left; x <= right; x++) {
      const column = this.#cells.get(x) ?? new Map<number, Thing[]>();
      this.#cells.set(x, column);
      for (let y = bottom; y <= top; y++) {
        const cell = column.get(y);
        if (cell === undefined) column.set(y, [thing]);
        else cell.push(thing);
      }
    }
  }

  /** Whether `holds` is true of any thing in the cells that the box reaches into: of all whose boxes meet it, and others near by. */
  someNear(box: Box, holds: (thing: Thing) => boolean): boolean {
    const [left, right, bottom, top] = this.#range(box);
    for (let x = left; x <= right; x++) {
      const column = this.#cells.get(x);
      if (column === undefined) continue;
      for (let y = bottom; y <= top; y++) {
        if (column.get(y)?.some(holds)) return true;
      }
    }
    return false;
  }

  #range({ left, right, bottom, top }: Box): readonly [number, number, number, number] {
    const cell = (value: number): number => Math.floor(value / this.#cell);
    return [cell(left), cell(right), cell(bottom), cell(top)];
  }
}
