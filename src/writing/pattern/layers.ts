/** The layers and the names of cells in the pattern files, and what a layout format must be able to write. */
import type { PatternLayer } from '../pattern-layers.ts';

/** Of the cell with all marks. */
export const MARKS_CELL = 'MARKS';
/** The name of the cell that holds all others; of a thinned pattern, of a draft, and of mirrored data: within the 32 letters of GDSII. */
export const TOP_CELL = 'ALL_PATCHES';
export const THINNED_TOP_CELL = 'ALL_THINNED_NOT_FOR_FABRICATION';
export const DRAFT_TOP_CELL = 'ALL_DRAFT_NOT_FOR_FABRICATION';
export const MIRRORED_TOP_CELL = 'ALL_PATCHES_MIRRORED_AS_WRITTEN';
/** Of a draft or a thinned pattern; the texts say which. */
export const MIRRORED_DRAFT_TOP_CELL = 'ALL_MIRRORED_NOT_FOR_FABRICATION';

export type { ByteSink } from '../manifest.ts';
export { PATTERN_LAYERS, type PatternLayer } from '../pattern-layers.ts';

/** What a layout format must be able to write, in the order it must be asked to; coordinates in database units. */
export interface LayoutStream {
  /** The head of the file, before any cell; left out where only cells are wanted. */
  begin(): void;
  beginCell(name: string): void;
  /** x, y by turns, `count` vertices (3 or more), counterclockwise, the closing side implied, no vertex like the one before. */
  polygon(layer: PatternLayer, points: Int32Array, count: number): void;
  /** A text of printable ASCII letters, at most 512, at a place in database units. */
  note(layer: PatternLayer, text: string, x: number, y: number): void;
  /** A cell written before, unturned, at the origin. */
  place(cell: string): void;
  endCell(): void;
  /** Whole cells, as another stream of this format wrote them without `begin` and `end`. Between cells. */
  cells(bytes: Uint8Array): void;
  /** Hands over what has gathered. Between cells. */
  flush(): void;
  /** Ends the file and hands over the last bytes. */
  end(): void;
}
