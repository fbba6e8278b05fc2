/**
 * A mark beside the substrate that shows when a drawing has been mirrored: a flag-like F, and arrows along +x and +y.
 * It belongs to the drawing and is not to be written on the glass, and says so.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { type Item, lineCurves, polygonCurves } from './drawing.ts';
import { centredText, type Lettering, roomFor, textAt } from './lettering.ts';

/** The F, counterclockwise when it reads correctly; its unit is a sixth of its height. */
const GLYPH: readonly Vec2[] = [
  [0, 0],
  [1, 0],
  [1, 2.5],
  [3, 2.5],
  [3, 3.5],
  [1, 3.5],
  [1, 5],
  [4, 5],
  [4, 6],
  [0, 6],
];
const WORDS = [
  'This mark reads correctly',
  'from the part side.',
  'Drawing mark only: not to be',
  'written on the glass.',
];
/** In text heights. */
const GLYPH_HEIGHT = 6;
const ARROW = 7;
const LINE = 1.5;
/** From the left to the arrows' origin, and to the words beside them. */
const ORIGIN = 7;
const WORDS_FROM = 18;

export const viewMarkSize = ({ text }: Lettering): { width: number; height: number } => ({
  width: WORDS_FROM * text + Math.max(...WORDS.map((line) => roomFor(line, text))),
  height: (ARROW + 3) * text,
});

/** The mark with the bottom left corner of its room at `corner`. */
export function viewMark([left, bottom]: Vec2, { text }: Lettering): Item[] {
  const unit = (GLYPH_HEIGHT * text) / 6;
  const foot = bottom + 0.5 * text;
  const glyph = GLYPH.map(([x, y]): Vec2 => [left + x * unit, foot + y * unit]);
  const origin: Vec2 = [left + ORIGIN * text, foot];
  return [
    polygonCurves(glyph),
    ...arrow(origin, [1, 0], ARROW * text, text),
    ...arrow(origin, [0, 1], ARROW * text, text),
    textAt('+x', [origin[0] + (ARROW + 0.6) * text, origin[1] - text / 2], text),
    centredText('+y', [origin[0], origin[1] + (ARROW + 1.3) * text], text),
    ...WORDS.map((line, k) =>
      textAt(line, [left + WORDS_FROM * text, foot + (WORDS.length - 1 - k) * LINE * text], text),
    ),
  ];
}

/** A line with an open arrow head at each end, `half` of it on either side of the middle. */
export const doubleArrow = (middle: Vec2, direction: Vec2, half: number, head: number): Item[] => [
  ...arrow(middle, direction, half, head),
  ...arrow(middle, [-direction[0], -direction[1]], half, head),
];

/** A line with an open arrow head at its far end. */
function arrow(from: Vec2, direction: Vec2, length: number, head: number): Item[] {
  const tip: Vec2 = [from[0] + length * direction[0], from[1] + length * direction[1]];
  const [c, s] = direction;
  const barb = (side: 1 | -1): Vec2 => [
    tip[0] - head * (c - side * s * 0.3),
    tip[1] - head * (s + side * c * 0.3),
  ];
  return [lineCurves([from, tip], [barb(1), tip], [barb(-1), tip])];
}
