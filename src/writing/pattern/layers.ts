/** The layers of the pattern files: one table for GDSII, OASIS and DXF, printed in the head of the coefficient sheet. */
export interface PatternLayer {
  readonly layer: number;
  readonly datatype: number;
  /** In the DXF, and for people. */
  readonly name: string;
  readonly meaning: string;
}

export const PATTERN_LAYERS = {
  written: { layer: 1, datatype: 0, name: 'WRITTEN', meaning: 'written zones: k <= phase < k + duty cycle' },
  thinned: {
    layer: 1,
    datatype: 1,
    name: 'THINNED_NOT_FOR_FABRICATION',
    meaning: 'every nth written zone: a picture, not for fabrication',
  },
  marks: {
    layer: 2,
    datatype: 0,
    name: 'MARKS',
    meaning:
      'marks beside the patterns: crosses, arrows, letters, lines to measure; written as the zones are',
  },
  substrate: { layer: 10, datatype: 0, name: 'SUBSTRATE', meaning: 'outline of the substrate, not written' },
  patch: { layer: 11, datatype: 0, name: 'PATCH', meaning: 'outline of a patch, not written' },
  notes: {
    layer: 12,
    datatype: 0,
    name: 'NOTES',
    meaning: 'texts: tone, depth, mirroring, and the id of each patch; not written',
  },
  keepOut: { layer: 13, datatype: 0, name: 'KEEP_OUT', meaning: 'outline of a keep-out, not written' },
  seat: {
    layer: 14,
    datatype: 0,
    name: 'SEAT',
    meaning: 'where a bonded ball or nest touches the glass, not written',
  },
} as const satisfies { readonly [name: string]: PatternLayer };

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
