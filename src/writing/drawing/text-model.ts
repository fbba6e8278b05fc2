/** Texts of the drawing as makerjs captions, and the room they take. mm, substrate frame. */
import makerjs from 'makerjs';
import type { Vec2 } from '../../geometry/vector.ts';
import { boxOf } from './boxes.ts';
import type { Align, Box, TextModel } from './drawing.ts';
import { roomFor } from './lettering.ts';

/** Room below the base line and above the capitals, in heights of capitals. */
const DESCENT = 0.35;
const ASCENT = 1.15;

/**
 * A line of text whose base line passes through `at`, which is its left end, middle or right end by `align`.
 * `angle` (radians) turns it about `at`.
 */
export function textModel(
  text: string,
  at: Vec2,
  height: number,
  align: Align = 'left',
  angle = 0,
): TextModel {
  const room = roomFor(text, height);
  const before = { left: 0, centre: room / 2, right: room }[align];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = (t: number): Vec2 => [at[0] + t * c, at[1] + t * s];
  const anchor = new makerjs.paths.Line([...along(-before)], [...along(room - before)]);
  return { caption: { text, anchor }, height, align };
}

/** A text centred on a point in both directions. */
export const centredText = (text: string, [x, y]: Vec2, height: number): TextModel =>
  textModel(text, [x, y - height / 2], height, 'centre');

export function anchorOf(model: TextModel): { from: Vec2; to: Vec2; at: Vec2; angle: number } {
  const { origin, end } = model.caption.anchor;
  const [from, to]: Vec2[] = [
    [origin[0]!, origin[1]!],
    [end[0]!, end[1]!],
  ];
  const middle: Vec2 = [(from![0] + to![0]) / 2, (from![1] + to![1]) / 2];
  const at = { left: from!, centre: middle, right: to! }[model.align];
  return { from: from!, to: to!, at, angle: Math.atan2(to![1] - from![1], to![0] - from![0]) };
}

/** The box around all the room reserved for the text. */
export function textBox(model: TextModel): Box {
  const { from, to, angle } = anchorOf(model);
  const up: Vec2 = [-Math.sin(angle) * model.height, Math.cos(angle) * model.height];
  return boxOf(
    [from, to].flatMap(([x, y]): Vec2[] => [
      [x - DESCENT * up[0], y - DESCENT * up[1]],
      [x + ASCENT * up[0], y + ASCENT * up[1]],
    ]),
  );
}
