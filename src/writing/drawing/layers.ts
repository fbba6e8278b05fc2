/**
 * The layers of the layout drawing, in the order in which they are drawn: stable names, the same in DXF and SVG.
 * Line widths are in units of the narrow line; ISO 128 pairs narrow and wide as 1 to 2, and a chain line (dash, gap, dot,
 * gap of 24, 3, 0.5 and 3 widths) marks centres.
 */
import { BLUE as BLUE_INK, GREY as GREY_INK, INK, PATTERN_TINT, RED as RED_INK } from '../palette.ts';

interface LayerForm {
  readonly name: string;
  /** In narrow lines: 1 or 2. */
  readonly width: 1 | 2;
  readonly line: 'continuous' | 'chain' | 'dashed';
  /** Its curves are filled areas without lines. */
  readonly filled?: true;
  /** Belongs to the sheet, not to what is shown on it. */
  readonly onSheet?: true;
  /** As CSS, and as the number of a colour of a DXF reader's table that shows on white and on black (7 is either's opposite). */
  readonly colour: { readonly css: string; readonly index: number };
}

const BLACK = { css: INK, index: 7 };
const GREY = { css: GREY_INK, index: 8 };
/** Index 5, the pure blue, is hard to see on black. */
const BLUE = { css: BLUE_INK, index: 150 };
const RED = { css: RED_INK, index: 1 };
const TINT = { css: PATTERN_TINT, index: 8 };

export const LAYERS = [
  { name: 'FRAME', width: 2, line: 'continuous', onSheet: true, colour: BLACK },
  { name: 'GRID', width: 1, line: 'continuous', onSheet: true, colour: GREY },
  { name: 'PATTERN_AREAS', width: 1, line: 'continuous', filled: true, colour: TINT },
  { name: 'SUBSTRATE', width: 2, line: 'continuous', colour: BLACK },
  { name: 'KEEP_OUTS', width: 1, line: 'dashed', colour: GREY },
  { name: 'SEATS', width: 1, line: 'continuous', colour: BLUE },
  { name: 'MARKS', width: 1, line: 'continuous', colour: BLUE },
  { name: 'PATCHES', width: 2, line: 'continuous', colour: BLACK },
  { name: 'FOCUS_LINES', width: 1, line: 'continuous', colour: BLUE },
  { name: 'CENTRE_LINES', width: 1, line: 'chain', colour: GREY },
  { name: 'DIMENSIONS', width: 1, line: 'continuous', colour: BLACK },
  { name: 'CAPTIONS', width: 1, line: 'continuous', colour: BLACK },
  { name: 'TITLE_BLOCK', width: 1, line: 'continuous', onSheet: true, colour: BLACK },
  { name: 'VIEW_MARK', width: 1, line: 'continuous', onSheet: true, colour: BLUE },
  { name: 'DRAFT_MARK', width: 2, line: 'continuous', onSheet: true, colour: RED },
] as const satisfies readonly LayerForm[];

export type LayerName = (typeof LAYERS)[number]['name'];
export type Layer = LayerForm & { readonly name: LayerName };

/** Dash lengths in line widths: drawn, gap, drawn, gap (ISO 128-2, line types 08 and 02). */
export const DASHES = {
  chain: [24, 3, 0.5, 3],
  dashed: [12, 3],
} as const;
