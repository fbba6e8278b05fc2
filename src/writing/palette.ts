/** The colours of drawings, pages and pictures, mixed for them: one home, so that a colour means the same on all of them. */

/** Text and outlines, and text that may stand back. */
export const INK = '#111111';
export const QUIET_INK = '#3a3d40';
/** Lines that serve others: keep-outs, grids, centre lines; and the rules of a page's tables. */
export const GREY = '#5a6064';
export const RULE = '#939b9f';
/** Behind a table's heads, and behind the heads of a list of facts. */
export const HEAD_FILL = '#e7ebec';
export const FACT_FILL = '#f4f6f6';
/** Seats, lines of focus, axes. */
export const BLUE = '#1d4e8b';
/** Drafts, errors, the steepest place, the patch itself. */
export const RED = '#a62a1f';
export const AMBER_INK = '#744708';
/** The edge of the beam. */
export const AMBER = '#c07d12';
export const PATCH_FILL = '#e6edf5';
/** Pattern against bare glass on the layout drawing: dark enough for a print in grey, pale enough for lettering on it. */
export const PATTERN_TINT = '#d3deea';
/** A pattern before and after, told apart also without red and green. */
export const BEFORE = '#bf2136';
export const AFTER = '#1a4fc4';
/** Enough of a thing, plenty, or none of it. */
export const ENOUGH = '#cbdcef';
export const PLENTY = '#82a9d4';
export const NONE = '#efcc8b';
export const REACH = '#27538a';
/** From the longest period to the shortest. */
export const SHADES = [
  '#f1f5f9',
  '#d4e0ee',
  '#b2c8e0',
  '#8cabcf',
  '#678dbc',
  '#436ea5',
  '#275188',
  '#123666',
];
/** Low to high about nothing: blue, white, orange, told apart also without red and green. */
export const DIVERGING = [
  '#0b3c78',
  '#265c97',
  '#417bb6',
  '#659acb',
  '#8eb7db',
  '#b4d1e8',
  '#d6e4f0',
  '#f7f7f7',
  '#f7e1ca',
  '#f6cb9e',
  '#efb172',
  '#e49445',
  '#d17722',
  '#ae5a11',
  '#8a3c00',
];
