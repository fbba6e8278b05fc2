/** Boxes with sides along x and y, and what they meet: how captions are kept apart from each other and from patches. mm. */
import { nearestOn, type Segment } from '../../geometry/piece.ts';
import { cross2, distance2, dot2, subtract2, type Vec2 } from '../../geometry/vector.ts';
import type { Box } from './drawing.ts';

export const boxOf = (points: readonly Vec2[]): Box => ({
  left: Math.min(...points.map(([x]) => x)),
  bottom: Math.min(...points.map(([, y]) => y)),
  right: Math.max(...points.map(([x]) => x)),
  top: Math.max(...points.map(([, y]) => y)),
});

export const around = (boxes: readonly Box[]): Box =>
  boxOf(
    boxes.flatMap(({ left, bottom, right, top }): Vec2[] => [
      [left, bottom],
      [right, top],
    ]),
  );

export const grown = (box: Box, dx: number, dy: number = dx): Box => ({
  left: box.left - dx,
  bottom: box.bottom - dy,
  right: box.right + dx,
  top: box.top + dy,
});

export const boxesMeet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.bottom < b.top && b.bottom < a.top;

export const holds = (outer: Box, inner: Box): boolean =>
  outer.left <= inner.left &&
  outer.right >= inner.right &&
  outer.bottom <= inner.bottom &&
  outer.top >= inner.top;

export const cornersOfBox = ({ left, bottom, right, top }: Box): Vec2[] => [
  [left, bottom],
  [right, bottom],
  [right, top],
  [left, top],
];

export const middleOf = ({ left, bottom, right, top }: Box): Vec2 => [(left + right) / 2, (bottom + top) / 2];

const edgesOf = (points: readonly Vec2[]) =>
  points.map((point, index) => [point, points[(index + 1) % points.length]!] as const);

/** A segment with its box, so that most tests end at the box. */
export interface Run extends Segment {
  readonly box: Box;
}

export function runOf(from: Vec2, to: Vec2): Run {
  const [x, y] = from;
  const [p, q] = to;
  const box = {
    left: Math.min(x, p),
    bottom: Math.min(y, q),
    right: Math.max(x, p),
    top: Math.max(y, q),
  };
  return { kind: 'segment', from, to, box };
}
export const edgeRuns = (polygon: readonly Vec2[]): Run[] =>
  edgesOf(polygon).map(([from, to]) => runOf(from, to));

/** Whether a segment enters the box. */
export function runMeetsBox({ from, to, box: own }: Run, box: Box): boolean {
  if (own.left > box.right || own.right < box.left || own.bottom > box.top || own.top < box.bottom)
    return false;
  const [enters, leaves] = shareInBox(from, to, box);
  return enters < leaves;
}

/**
 * The shares of a segment at which it enters and leaves the box, by Liang and Barsky's clipping: entering after leaving where it
 * passes the box by. A segment along a side's direction is taken to lie between the two sides.
 */
export function shareInBox(from: Vec2, to: Vec2, box: Box): readonly [enters: number, leaves: number] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [enters, leaves] = [0, 1];
  if (dx !== 0) {
    const [a, b] = [(box.left - from[0]) / dx, (box.right - from[0]) / dx];
    enters = Math.max(enters, Math.min(a, b));
    leaves = Math.min(leaves, Math.max(a, b));
  }
  if (dy !== 0) {
    const [a, b] = [(box.bottom - from[1]) / dy, (box.top - from[1]) / dy];
    enters = Math.max(enters, Math.min(a, b));
    leaves = Math.min(leaves, Math.max(a, b));
  }
  return [enters, leaves];
}

export const runsCross = (a: Run, b: Run): boolean =>
  a.box.left <= b.box.right &&
  b.box.left <= a.box.right &&
  a.box.bottom <= b.box.top &&
  b.box.bottom <= a.box.top &&
  segmentsCross(a.from, a.to, b.from, b.to);

export const distanceToRun = (point: Vec2, run: Run): number => distance2(point, nearestOn(run, point));

const sideOf = (p: Vec2, q: Vec2, r: Vec2): number =>
  Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));

function segmentsCross(a: Vec2, b: Vec2, c: Vec2, d: Vec2): boolean {
  return sideOf(a, b, c) !== sideOf(a, b, d) && sideOf(c, d, a) !== sideOf(c, d, b);
}

/**
 * The part of the line through `point` along the unit vector `direction` that lies inside: [from, to] pairs, mm from
 * `point`. Inside is within an odd number of the polygons, so that a hole is left out.
 */
export function runsInPolygons(
  point: Vec2,
  direction: Vec2,
  polygons: readonly (readonly Vec2[])[],
): (readonly [number, number])[] {
  const crossings: number[] = [];
  for (const [a, b] of polygons.flatMap(edgesOf)) {
    const [da, db] = [cross2(direction, subtract2(a, point)), cross2(direction, subtract2(b, point))];
    if (da > 0 === db > 0) continue;
    const t = da / (da - db);
    const at: Vec2 = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    crossings.push(dot2(subtract2(at, point), direction));
  }
  crossings.sort((p, q) => p - q);
  return Array.from({ length: crossings.length >> 1 }, (_, k) => [crossings[2 * k]!, crossings[2 * k + 1]!]);
}
