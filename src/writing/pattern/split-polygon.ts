/**
 * Polygons of whole database units cut in two along an upright or a level line, and their parts again, until each is within the vertex limit;
 * parts abut. The same cut as cutByLine of pattern/cut-region.ts makes, for polygons of many thousand vertices, in typed arrays.
 */
import { sortByTurns } from '../../pattern/cut-region.ts';
import { onGrid } from './on-grid.ts';

/** A part that covers less than its length times this is the rounding of a line along an edge, none of the polygon. */
const LEAST_WIDTH = 1e-9;

/** Cut across the longer side of the box until every part has at most `limit` vertices. Throws a RangeError for a polygon that crosses itself. */
export function splitPolygon(points: Int32Array, count: number, limit: number): Int32Array[] {
  const work: Int32Array[] = [points.slice(0, 2 * count)];
  const parts: Int32Array[] = [];
  for (let part = work.pop(); part !== undefined; part = work.pop()) {
    if (part.length <= 2 * limit) {
      parts.push(part);
      continue;
    }
    const halves = halvesOf(part, middleLine(part));
    if (halves.length < 2)
      throw new RangeError(`a polygon of ${part.length / 2} vertices could not be cut to ${limit}`);
    work.push(...halves.reverse());
  }
  return parts;
}

/** x = `value` (axis 0) or y = `value` (axis 1). */
interface AxisLine {
  readonly axis: 0 | 1;
  readonly value: number;
}

/** Across the longer side of the box, through the middle vertex by rank: each part has about half of the vertices. */
function middleLine(points: Int32Array): AxisLine {
  const least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const most = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < points.length; k++) {
    const axis = k & 1;
    const value = points[k]!;
    if (value < least[axis]!) least[axis] = value;
    if (value > most[axis]!) most[axis] = value;
  }
  const axis = most[0]! - least[0]! >= most[1]! - least[1]! ? 0 : 1;
  const values = new Int32Array(points.length / 2);
  for (let k = 0; k < values.length; k++) values[k] = points[2 * k + axis]!;
  return { axis, value: middleOf(values.sort()) };
}

/** The middle value by rank, or half way where that is an end: many vertices may stand on an earlier cut. */
function middleOf(sorted: Int32Array): number {
  const [least, middle, most] = [sorted[0]!, sorted[sorted.length >> 1]!, sorted[sorted.length - 1]!];
  return middle > least && middle < most ? middle : Math.floor((least + most) / 2);
}

/** Where a side, from the vertex of this number on, crosses the line. */
interface Crossing {
  readonly side: number;
  readonly x: number;
  readonly y: number;
  /** Along the line: up an upright one, to the right on a level one. */
  readonly run: number;
  readonly toRight: boolean;
  /** From where the walk goes on that has come to this one along the polygon: the one it is paired with along the line. */
  mate: Crossing | undefined;
}

/** The parts on the left of the line, looking up or to the right along it, then those on its right. */
function halvesOf(points: Int32Array, line: AxisLine): Int32Array[] {
  const count = points.length / 2;
  const isLeft = sidesOf(points, line);
  const bySide = new Map<number, Crossing>();
  for (let k = 0; k < count; k++) {
    if (isLeft[k] === isLeft[k + 1 === count ? 0 : k + 1]) continue;
    bySide.set(k, crossingAt(points, k, line, isLeft[k] === 1));
  }
  pair([...bySide.values()]);
  const seen = new Uint8Array(count);
  const left: Int32Array[] = [];
  const right: Int32Array[] = [];
  const walk = new Float64Array(2 * (count + 2 * bySide.size));
  const take = (start: number, from: Crossing | undefined, isOnLeft: boolean): void => {
    let used = 0;
    const add = (x: number, y: number): void => {
      walk[used++] = x;
      walk[used++] = y;
    };
    if (from !== undefined) add(from.x, from.y);
    for (let k = start; seen[k] === 0; ) {
      seen[k] = 1;
      add(points[2 * k]!, points[2 * k + 1]!);
      const crossing = bySide.get(k);
      if (crossing === undefined) k = k + 1 === count ? 0 : k + 1;
      else {
        const mate = crossing.mate!;
        add(crossing.x, crossing.y);
        add(mate.x, mate.y);
        k = mate.side + 1 === count ? 0 : mate.side + 1;
      }
    }
    if (hasArea(walk, used)) (isOnLeft ? left : right).push(rounded(walk, used));
  };
  for (let k = 0; k < count; k++) {
    if (seen[k] === 0) take(k, undefined, isLeft[k] === 1);
    const after = k + 1 === count ? 0 : k + 1;
    const crossing = bySide.get(k);
    if (crossing !== undefined && seen[after] === 0) take(after, crossing, isLeft[k] !== 1);
  }
  return [...left, ...right];
}

/** Of each vertex 1 on the left of the line or on it. */
function sidesOf(points: Int32Array, { axis, value }: AxisLine): Uint8Array {
  const isLeft = new Uint8Array(points.length / 2);
  for (let k = 0; k < isLeft.length; k++) {
    const at = points[2 * k + axis]!;
    isLeft[k] = (axis === 0 ? at <= value : at >= value) ? 1 : 0;
  }
  return isLeft;
}

function crossingAt(points: Int32Array, side: number, { axis, value }: AxisLine, toRight: boolean): Crossing {
  const next = (2 * side + 2) % points.length;
  const [x0, y0, x1, y1] = [points[2 * side]!, points[2 * side + 1]!, points[next]!, points[next + 1]!];
  const [a, b] = axis === 0 ? [x0, x1] : [y0, y1];
  const fraction = (value - a) / (b - a);
  const [x, y] = fraction === 1 ? [x1, y1] : [x0 + fraction * (x1 - x0), y0 + fraction * (y1 - y0)];
  return { side, x, y, run: axis === 0 ? y : x, toRight, mate: undefined };
}

/** Each crossing with the next along the line: between the two, the line is in the polygon. */
function pair(crossings: Crossing[]): void {
  sortByTurns(crossings, ({ toRight }) => toRight);
  for (let k = 0; k + 1 < crossings.length; k += 2) {
    crossings[k]!.mate = crossings[k + 1];
    crossings[k + 1]!.mate = crossings[k];
  }
}

function hasArea(xy: Float64Array, used: number): boolean {
  const [x0, y0] = [xy[0]!, xy[1]!];
  let [twice, length] = [0, 0];
  let [px, py] = [xy[used - 2]! - x0, xy[used - 1]! - y0];
  for (let k = 0; k < used; k += 2) {
    const [qx, qy] = [xy[k]! - x0, xy[k + 1]! - y0];
    twice += px * qy - qx * py;
    length += Math.hypot(qx - px, qy - py);
    px = qx;
    py = qy;
  }
  return Math.abs(twice) / 2 > LEAST_WIDTH * length;
}

function rounded(xy: Float64Array, used: number): Int32Array {
  const points = new Int32Array(used);
  return points.slice(0, 2 * onGrid(xy, used / 2, 1, points));
}
