/**
 * The few dimensions drawn on the layout: the substrate's overall width below it and its height left of it, as lines,
 * arrows and text (a DIMENSION entity without its block is dropped by strict readers). A whole circle needs one, its Ø.
 * Patch centres are ordinates, in the table.
 */
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import { type Box, type Item, lineCurves } from './drawing.ts';
import { roomFor, textAt } from './lettering.ts';
import { isRound } from './outline-model.ts';
import { doubleArrow } from './view-mark.ts';

/** How far off the outline the dimension lines stand, and how much room they and their text take, in text heights. */
const FIRST = 2.2;
const ROOM = 4.4;

/** How far ordinates reach out below and at the left of the view: the overall dimensions stand beyond them. */
type Beyond = Readonly<Record<'left' | 'bottom', number>>;

export function substrateDimensions(outline: Outline, box: Box, text: number, beyond: Beyond): Item[] {
  const round = isRound(outline);
  const width = `${round ? 'Ø' : ''}${trimmed(box.right - box.left, 6)}`;
  const across = dimension(
    [box.left, box.bottom],
    [box.right, box.bottom],
    [0, -1],
    width,
    text,
    beyond.bottom,
  );
  if (round) return across;
  const height = trimmed(box.top - box.bottom, 6);
  return [
    ...across,
    ...dimension([box.left, box.top], [box.left, box.bottom], [-1, 0], height, text, beyond.left),
  ];
}

/** Ordinate of the line below that shows the overall width or diameter. */
export const dimensionLine = ({ bottom }: Box, text: number, below: number): number =>
  bottom - below - FIRST * text;

/** The room of those dimensions, that captions keep out of. */
export function dimensionBoxes(
  outline: Outline,
  { left, bottom, right, top }: Box,
  text: number,
  beyond: Beyond,
): Box[] {
  const room = roomFor('0000.000000', text) / 2;
  const middle = (left + right) / 2;
  const below = {
    left: Math.min(left - text, middle - room),
    bottom: bottom - beyond.bottom - ROOM * text,
    right: Math.max(right + text, middle + room),
    top: bottom - beyond.bottom - text,
  };
  const beside = {
    left: left - beyond.left - ROOM * text,
    bottom,
    right: left - beyond.left - text,
    top,
  };
  return isRound(outline) ? [below] : [below, beside];
}

/** From a to b, drawn FIRST text heights past `beyond` (mm) toward `out`; the text stands on the line's outer side or turned along it. */
function dimension(a: Vec2, b: Vec2, out: Vec2, words: string, text: number, beyond: number): Item[] {
  const off = ([x, y]: Vec2, by: number): Vec2 => [x + out[0] * by * text, y + out[1] * by * text];
  const first = FIRST + beyond / text;
  const [from, to] = [off(a, first), off(b, first)];
  const length = Math.sqrt((to[0] - from[0]) ** 2 + (to[1] - from[1]) ** 2);
  const along: Vec2 = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const middle: Vec2 = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const head = Math.min(text, length / 4);
  const vertical = Math.abs(out[0]) > 0;
  return [
    lineCurves([off(a, 0.4), off(a, first + 0.6)], [off(b, 0.4), off(b, first + 0.6)]),
    ...doubleArrow(middle, along, length / 2, head),
    vertical
      ? textAt(words, [middle[0] - 0.5 * text, middle[1]], text, 'centre', Math.PI / 2)
      : textAt(words, [middle[0], middle[1] - 1.6 * text], text, 'centre'),
  ];
}
