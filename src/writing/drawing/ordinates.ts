/**
 * Ordinates (coordinate dimensions after ISO 129-1) around the view: of each patch's centre from the axes x = 0 and y = 0 of the
 * substrate frame, which are named at their ends, and of the substrate's left and bottom edges where those are what the axes are set
 * by. Each on the nearer side; values that stand close are spread and reached by a bent line. A centre's ordinate is an auxiliary
 * dimension, in brackets and rounded: the table has it exactly. mm, substrate frame.
 */
import { type Design, patternsOf } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import { middleOf } from './boxes.ts';
import type { Box, Line, Text } from './drawing.ts';
import { roomFor, textAt } from './lettering.ts';
import { isRound, outlineBox } from './outline-model.ts';

type Side = 'left' | 'right' | 'bottom' | 'top';

export interface Ordinates {
  readonly lines: readonly Line[];
  readonly texts: readonly Text[];
  /** How far they reach beyond the content on each side; 0 where there are none. */
  readonly depth: Readonly<Record<Side, number>>;
}

interface Ordinate {
  readonly value: number;
  readonly words: string;
  /** Where its line starts; undefined where the axis itself leads there. */
  readonly from: Vec2 | undefined;
}

/** With more patches than this the view would be a thicket: their centres are in the table alone. */
const MOST_ORDINATES = 16;
/** In text heights, from the content's edge: where a line bends, where it has reached its value's place, and the value itself. */
const BEND = 1.5;
const STRAIGHT = 3;
const TEXT = 3.9;
const PITCH = 1.6;
/** Micrometres: an auxiliary dimension. */
const DIGITS = 3;
const EDGE_DIGITS = 6;
const SAME = 1e-6;
const OPPOSITE = { left: 'right', right: 'left', bottom: 'top', top: 'bottom' } as const;

export function layOrdinates(
  design: Pick<Design, 'scenario' | 'patches' | 'main'>,
  content: Box,
  text: number,
): Ordinates {
  const sides: Record<Side, Ordinate[]> = { left: [], right: [], bottom: [], top: [] };
  sides.top.push({ value: 0, words: 'x = 0', from: undefined });
  sides.right.push({ value: 0, words: 'y = 0', from: undefined });
  const edges = design.scenario.substrate.outline;
  if (!isCentred(edges)) addEdges(sides, outlineBox(edges));
  const patterns = patternsOf(design);
  if (patterns.length <= MOST_ORDINATES)
    for (const { pattern } of patterns) addCentre(sides, pattern, content);
  const lines: Line[] = [];
  const texts: Text[] = [];
  const depth: Record<Side, number> = { left: 0, right: 0, bottom: 0, top: 0 };
  for (const side of Object.keys(sides) as Side[]) {
    const items = sides[side].sort((a, b) => a.value - b.value);
    const places = spread(
      items.map(({ value }) => value),
      PITCH * text,
    );
    items.forEach((item, k) => {
      lines.push(...linesOf(item, places[k]!, side, content, text));
      texts.push(valueText(item.words, places[k]!, side, content, text));
      depth[side] = Math.max(depth[side], TEXT * text + roomFor(item.words, text));
    });
  }
  return { lines, texts, depth };
}

/** A round outline about the origin: its axes need no edges. */
const isCentred = (outline: Outline): boolean =>
  isRound(outline) && outline.centre[0] === 0 && outline.centre[1] === 0;

/** At the top and the right: the overall dimensions' own lines leave from the other ends of these edges. */
function addEdges(sides: Record<Side, Ordinate[]>, { left, bottom, right, top }: Box): void {
  sides.top.push({ value: left, words: trimmed(left, EDGE_DIGITS), from: [left, top] });
  sides.right.push({ value: bottom, words: trimmed(bottom, EDGE_DIGITS), from: [right, bottom] });
}

/** On the nearer sides; a value that is there or opposite already is not written twice, its line starts at the farther centre. */
function addCentre(sides: Record<Side, Ordinate[]>, { centre }: Pattern, content: Box): void {
  const [x, y] = centre;
  const [middleX, middleY] = middleOf(content);
  const find = (side: Side, value: number): number =>
    sides[side].findIndex((item) => Math.abs(item.value - value) < SAME);
  const put = (nearer: Side, value: number, along: 0 | 1): void => {
    const side = find(nearer, value) < 0 && find(OPPOSITE[nearer], value) >= 0 ? OPPOSITE[nearer] : nearer;
    const items = sides[side];
    const at = find(side, value);
    if (at < 0) items.push({ value, words: `(${trimmed(value, DIGITS)})`, from: centre });
    else {
      const before = items[at]!;
      if (before.from === undefined || before.from === centre) return;
      const outward = side === 'left' || side === 'bottom' ? -1 : 1;
      if (outward * (before.from[along] - centre[along]) > 0) items[at] = { ...before, from: centre };
    }
  };
  put(y >= middleY ? 'top' : 'bottom', x, 1);
  put(x >= middleX ? 'right' : 'left', y, 0);
}

/** Places at least `pitch` apart, each as near to its value as the others let it: neighbours that would meet share the shift. */
function spread(values: readonly number[], pitch: number): number[] {
  const groups: { sum: number; count: number; first: number }[] = [];
  values.forEach((value, k) => {
    groups.push({ sum: value - k * pitch, count: 1, first: k });
    for (;;) {
      const [before, last] = [groups.at(-2), groups.at(-1)!];
      if (before === undefined || before.sum / before.count <= last.sum / last.count) break;
      groups.pop();
      before.sum += last.sum;
      before.count += last.count;
    }
  });
  return groups.flatMap(({ sum, count, first }) =>
    Array.from({ length: count }, (_, k) => sum / count + (first + k) * pitch),
  );
}

/** The point at `along` its axis, `out` text heights beyond the content's side. */
function beyond(side: Side, along: number, out: number, content: Box, text: number): Vec2 {
  if (side === 'left') return [content.left - out * text, along];
  if (side === 'right') return [content.right + out * text, along];
  return side === 'bottom' ? [along, content.bottom - out * text] : [along, content.top + out * text];
}

function linesOf({ value, from }: Ordinate, place: number, side: Side, content: Box, text: number): Line[] {
  const at = (along: number, out: number): Vec2 => beyond(side, along, out, content, text);
  const bend = at(value, BEND);
  const rest: Line[] = [
    [bend, at(place, STRAIGHT)],
    [at(place, STRAIGHT), at(place, TEXT - 0.4)],
  ];
  return from === undefined ? rest : [[from, bend], ...rest];
}

/** Along y for an x, so that it reads from the right; the end toward the view stands at the line's end. */
function valueText(words: string, place: number, side: Side, content: Box, text: number): Text {
  const turned = side === 'bottom' || side === 'top';
  const [x, y] = beyond(side, place, TEXT, content, text);
  const at: Vec2 = turned ? [x + text / 2, y] : [x, y - text / 2];
  const align = side === 'left' || side === 'bottom' ? 'right' : 'left';
  return textAt(words, at, text, align, turned ? Math.PI / 2 : 0);
}
