/** Places that a caption may take around its patch, best first, as boxes of its room. mm; heights are those of capitals. */
import type { Vec2 } from '../../../geometry/vector.ts';
import { middleOf, runsInPolygons } from '../boxes.ts';
import type { Box } from '../drawing.ts';

export const captionBox = ([x, y]: Vec2, width: number, height: number): Box => ({
  left: x,
  bottom: y - 0.35 * height,
  right: x + width,
  top: y + 1.15 * height,
});

export const baselineOf = (box: Box): Vec2 => {
  const height = (box.top - box.bottom) / 1.5;
  return [box.left, box.bottom + 0.35 * height];
};

/** Boxes that touch a patch's own box with a small gap, the most natural to read first. */
export function besides(patch: Box, width: number, height: number): Box[] {
  const gap = 0.6 * height;
  const [x, y] = middleOf(patch);
  const tall = 1.5 * height;
  const at = (left: number, bottom: number): Box => ({
    left,
    bottom,
    right: left + width,
    top: bottom + tall,
  });
  const columns = [patch.left, patch.right - width, x + gap, x - gap - width];
  const rows = [patch.top - tall, patch.bottom, y + gap, y - gap - tall];
  return [
    ...columns.map((left) => at(left, patch.top + gap)),
    ...columns.map((left) => at(left, patch.bottom - gap - tall)),
    ...rows.map((bottom) => at(patch.right + gap, bottom)),
    ...rows.map((bottom) => at(patch.left - gap - width, bottom)),
    at(patch.right + gap, patch.top + gap),
    at(patch.left - gap - width, patch.top + gap),
    at(patch.right + gap, patch.bottom - gap - tall),
    at(patch.left - gap - width, patch.bottom - gap - tall),
  ];
}

/** The box of a caption that a leader from inside reaches at `knee`, its nearest side's middle toward the patch. */
export function boxBeyond([x, y]: Vec2, direction: Vec2, width: number, height: number): Box {
  const tall = 1.5 * height;
  const gap = 0.5 * height;
  const flat = Math.abs(direction[0]) > 0.3;
  const left = flat ? (direction[0] > 0 ? x + gap : x - gap - width) : x - width / 2;
  const bottom = flat ? y - tall / 2 : direction[1] > 0 ? y + gap : y - gap - tall;
  return { left, bottom, right: left + width, top: bottom + tall };
}

/** Where the ray from `middle` leaves the polygon for good; undefined where it never meets it. */
export function exitFrom(polygon: readonly Vec2[], middle: Vec2, direction: Vec2): Vec2 | undefined {
  const farthest = runsInPolygons(middle, direction, [polygon]).at(-1)?.[1];
  if (farthest === undefined || farthest < 0) return undefined;
  return [middle[0] + farthest * direction[0], middle[1] + farthest * direction[1]];
}
