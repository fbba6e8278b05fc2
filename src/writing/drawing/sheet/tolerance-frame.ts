/**
 * A tolerance indicator of position (ISO 1101): the sign of position, the zone's diameter with CZ where all the patterns share one zone
 * pattern, and the datums. mm.
 */
import type { Vec2 } from '../../../geometry/vector.ts';
import { cornersOfBox } from '../boxes.ts';
import { circleCurves, type Item, levelLine, lineCurves, polygonCurves, uprightLine } from '../drawing.ts';
import { centredText, roomFor } from '../lettering.ts';

/** In text heights (ISO 7083 has the frame twice as high as the lettering). */
export const FRAME_HEIGHT = 2;
const BESIDE = 0.5;
/** The sign's circle, and half its lines. */
const CIRCLE = 0.5;
const ARM = 0.8;

/** `cells`: what follows the sign; `corner`: bottom left. */
export function toleranceFrame(
  cells: readonly string[],
  [left, bottom]: Vec2,
  text: number,
): { readonly items: readonly Item[]; readonly width: number } {
  const height = FRAME_HEIGHT * text;
  const middle: Vec2 = [left + height / 2, bottom + height / 2];
  const arm = ARM * text;
  const items: Item[] = [
    circleCurves(middle, CIRCLE * text),
    lineCurves(
      levelLine(middle[0] - arm, middle[0] + arm, middle[1]),
      uprightLine(middle[0], middle[1] - arm, middle[1] + arm),
    ),
  ];
  let x = left + height;
  for (const cell of cells) {
    const width = Math.max(height, roomFor(cell, text) + 2 * BESIDE * text);
    items.push(lineCurves(uprightLine(x, bottom, bottom + height)));
    items.push(centredText(cell, [x + width / 2, middle[1]], text));
    x += width;
  }
  const corners = cornersOfBox({ left, bottom, right: x, top: bottom + height });
  return { items: [polygonCurves(corners), ...items], width: x - left };
}
