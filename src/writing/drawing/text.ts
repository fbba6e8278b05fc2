/** Texts of the drawing and the room they take. mm, substrate frame. */
import type { Vec2 } from '../../geometry/vector.ts';
import { boxOf } from './boxes.ts';
import type { Align, Box, Text } from './drawing.ts';
import { roomFor } from './lettering.ts';

/** Room below the base line and above the capitals, in heights of capitals. */
const DESCENT = 0.35;
const ASCENT = 1.15;

/** A text whose base line passes through `at`, turned about it by `angle`, radians. */
export const textAt = (text: string, at: Vec2, height: number, align: Align = 'left', angle = 0): Text => ({
  text,
  at,
  height,
  align,
  angle,
});

/** A text centred on a point in both directions. */
export const centredText = (text: string, [x, y]: Vec2, height: number): Text =>
  textAt(text, [x, y - height / 2], height, 'centre');

/** The box around all the room reserved for the text. */
export function textBox({ text, at: [x, y], height, align, angle }: Text): Box {
  const room = roomFor(text, height);
  const before = { left: 0, centre: room / 2, right: room }[align];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return boxOf(
    [-before, room - before].flatMap((along) =>
      [-DESCENT * height, ASCENT * height].map(
        (up): Vec2 => [x + along * c - up * s, y + along * s + up * c],
      ),
    ),
  );
}
