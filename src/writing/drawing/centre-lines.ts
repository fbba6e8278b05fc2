/**
 * Centre lines: the axes x = 0 and y = 0 of the substrate frame, a cross at each patch's centre, and in the patch of a
 * line focus the direction of its line. mm, substrate frame.
 */
import type { DesignedPatch } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { isInPolygon } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { runsInPolygons } from './boxes.ts';
import { type Box, type Item, type Line, levelLine, uprightLine } from './drawing.ts';
import { roughPolygons } from './outline-model.ts';
import { doubleArrow } from './view-mark.ts';

/** How far lines run on: axes past everything drawn, crosses past their patch; and a cross's arm at a centre in a hole. */
const AXES_BEYOND = 1.5;
const CROSS_BEYOND = 0.5;
const SMALL_CROSS = 1.2;

/** The axes across `content`, y = 0 first. */
export const axisLines = ({ left, bottom, right, top }: Box, text: number): Line[] => [
  levelLine(left - AXES_BEYOND * text, right + AXES_BEYOND * text, 0),
  uprightLine(0, bottom - AXES_BEYOND * text, top + AXES_BEYOND * text),
];

/** The cross at a patch's centre: none where the axes cross there already. */
export function centreCross({ centre, outline }: Pattern, text: number): Line[] {
  const [x, y] = centre;
  const [edge, ...holes] = roughPolygons(outline);
  if (!isInPolygon(edge!, centre) || holes.some((hole) => isInPolygon(hole, centre))) {
    const arm = SMALL_CROSS * text;
    return x === 0 && y === 0 ? [] : plus(x - arm, x + arm, y - arm, y + arm, centre);
  }
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const beyond = Math.min(CROSS_BEYOND * text, (maxX - minX) / 4, (maxY - minY) / 4);
  return plus(minX - beyond, maxX + beyond, minY - beyond, maxY + beyond, centre);
}

const plus = (left: number, right: number, bottom: number, top: number, [x, y]: Vec2): Line[] => [
  levelLine(left, right, y),
  uprightLine(x, bottom, top),
];

/** A line with an arrow head at each end along `lineAngle`, wherever it runs inside the patch; nothing for a point focus. */
export function focusLine({ asked, centre, outline }: DesignedPatch, text: number): Item[] {
  if (asked.lineAngle === undefined) return [];
  const direction: Vec2 = [Math.cos(asked.lineAngle), Math.sin(asked.lineAngle)];
  return runsInPolygons(centre, direction, roughPolygons(outline)).flatMap(([from, to]) => {
    const half = ((to - from) / 2) * PART_SHOWN;
    const t = (from + to) / 2;
    const middle: Vec2 = [centre[0] + t * direction[0], centre[1] + t * direction[1]];
    const head = Math.min(0.8 * text, half / 2);
    return doubleArrow(middle, direction, half, head);
  });
}

/** Of the run inside the patch, so that arrows end short of its edge. */
const PART_SHOWN = 0.8;
