/**
 * The datums that the patterns are placed by, drawn on the substrate after ISO 5459: A, the axis of a round edge, its triangle on the
 * line of the diameter; or A, the left edge, and B, the bottom edge, each triangle on the extension line of its edge, where that edge is straight. mm, substrate frame.
 */
import { boundaryOf } from '../../geometry/boundary.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { boxOf, cornersOfBox } from './boxes.ts';
import { dimensionLine } from './dimensions.ts';
import { type Box, type Item, lineCurves, polygonCurves } from './drawing.ts';
import { centredText } from './lettering.ts';
import { isRound, outlineBox } from './outline-model.ts';

interface Datum {
  readonly letter: 'A' | 'B';
  readonly feature: 'axis of the round edge' | 'left edge' | 'bottom edge';
}

/** Of the substrate's outline; none where it is not round and has no straight edge along y at the left and along x at the bottom. */
export function datumsOf(outline: Outline): readonly Datum[] {
  if (isRound(outline)) return [{ letter: 'A', feature: 'axis of the round edge' }];
  const { left, bottom } = outlineBox(outline);
  const runsAt = (along: 0 | 1, at: number): boolean =>
    boundaryOf(outline).some((loop) =>
      loop.some(
        (piece) =>
          piece.kind === 'segment' &&
          Math.abs(piece.from[along] - at) < STRAIGHT &&
          Math.abs(piece.to[along] - at) < STRAIGHT,
      ),
    );
  return runsAt(0, left) && runsAt(1, bottom)
    ? [
        { letter: 'A', feature: 'left edge' },
        { letter: 'B', feature: 'bottom edge' },
      ]
    : [];
}

/** Rounding of a corner turned by an angle, mm. */
const STRAIGHT = 1e-9;

/** In text heights: the triangle's height and half its base, the line to the square, the square's side; along the extension line from the edge. */
const TRIANGLE = 0.8;
const HALF_BASE = 0.5;
const STEM = 0.5;
const SQUARE = 1.8;
const ALONG = 1.25;

/** What is drawn, and the room of each mark, which captions keep out of. `below`: how far ordinates reach below the view, mm. */
export function datumMarks(
  outline: Outline,
  text: number,
  below: number,
): { readonly items: readonly Item[]; readonly boxes: readonly Box[] } {
  const box = outlineBox(outline);
  const marks = datumsOf(outline).map(({ letter, feature }) => {
    if (feature === 'axis of the round edge')
      return mark(letter, [box.right, dimensionLine(box, text, below)], [1, 0], text);
    return feature === 'left edge'
      ? mark(letter, [box.left, box.top + ALONG * text], [-1, 0], text)
      : mark(letter, [box.right + ALONG * text, box.bottom], [0, -1], text);
  });
  return { items: marks.flatMap(({ items }) => items), boxes: marks.map((one) => one.box) };
}

/** A triangle with its base at `foot`, its line and square beyond it toward `out`, along x or y. */
function mark(letter: string, foot: Vec2, out: Vec2, text: number): { items: Item[]; box: Box } {
  const at = (along: number, across: number): Vec2 => [
    foot[0] + text * (along * out[0] - across * out[1]),
    foot[1] + text * (along * out[1] + across * out[0]),
  ];
  const near = TRIANGLE + STEM;
  const square = boxOf([at(near, -SQUARE / 2), at(near + SQUARE, SQUARE / 2)]);
  return {
    items: [
      polygonCurves([at(0, -HALF_BASE), at(TRIANGLE, 0), at(0, HALF_BASE)]),
      lineCurves([at(TRIANGLE, 0), at(near, 0)]),
      polygonCurves(cornersOfBox(square)),
      centredText(letter, at(near + SQUARE / 2, 0), text),
    ],
    box: boxOf([at(0, -SQUARE / 2), at(near + SQUARE, SQUARE / 2)]),
  };
}
