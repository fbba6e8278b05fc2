/**
 * Polygons of mm brought to the file's grid: rounded to whole database units, vertices that fall together joined, polygons
 * without area dropped, those beyond the vertex limit cut in two along straight lines until each fits; parts abut.
 */
import type { Loop, Segment } from '../../geometry/piece.ts';
import { cutByLine, type Line } from '../../pattern/cut-region.ts';

/** The farthest coordinate that both formats' readers take: 32 bits, signed. */
const FARTHEST = 2 ** 31 - 1;
const LEAST_VERTEX_LIMIT = 4;

export interface PolygonTally {
  polygons: number;
  vertices: number;
  /** Polygons that vanished in the rounding. */
  dropped: number;
  /** Of what was written: twice the area and the bounds, in database units. */
  twiceArea: number;
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

export const emptyTally = (): PolygonTally => ({
  polygons: 0,
  vertices: 0,
  dropped: 0,
  twiceArea: 0,
  minX: Number.POSITIVE_INFINITY,
  minY: Number.POSITIVE_INFINITY,
  maxX: Number.NEGATIVE_INFINITY,
  maxY: Number.NEGATIVE_INFINITY,
});

type PolygonTaker = (points: Int32Array, count: number) => void;

export class DatabasePolygons {
  readonly #scale: number;
  readonly #limit: number;
  readonly #take: PolygonTaker;
  #points = new Int32Array(4096);
  tally = emptyTally();

  /** `scale`: database units a mm; `limit`: most vertices of a polygon. */
  constructor(scale: number, limit: number, take: PolygonTaker) {
    if (!(Number.isInteger(limit) && limit >= LEAST_VERTEX_LIMIT))
      throw new RangeError(
        `the vertex limit is ${limit}; expected a whole number from ${LEAST_VERTEX_LIMIT} on`,
      );
    this.#scale = scale;
    this.#limit = limit;
    this.#take = take;
  }

  /** `count` vertices, x and y by turns, mm, counterclockwise. */
  add(xy: Float64Array, count: number): void {
    const kept = this.#round(xy, count);
    if (kept < 3) {
      this.tally.dropped++;
      return;
    }
    const points = this.#points;
    if (kept > this.#limit) {
      for (const part of split(points, kept, this.#limit)) this.#give(part, part.length / 2);
      return;
    }
    this.#give(points, kept);
  }

  #give(points: Int32Array, count: number): void {
    const tally = this.tally;
    const x0 = points[0]!;
    const y0 = points[1]!;
    let twice = 0;
    let px = 0;
    let py = 0;
    let minX = 0;
    let minY = 0;
    let maxX = 0;
    let maxY = 0;
    for (let k = 2; k < 2 * count; k += 2) {
      const qx = points[k]! - x0;
      const qy = points[k + 1]! - y0;
      twice += px * qy - qx * py;
      px = qx;
      py = qy;
      if (qx < minX) minX = qx;
      if (qx > maxX) maxX = qx;
      if (qy < minY) minY = qy;
      if (qy > maxY) maxY = qy;
    }
    if (!(twice > 0)) {
      tally.dropped++;
      return;
    }
    tally.polygons++;
    tally.vertices += count;
    tally.twiceArea += twice;
    tally.minX = Math.min(tally.minX, x0 + minX);
    tally.minY = Math.min(tally.minY, y0 + minY);
    tally.maxX = Math.max(tally.maxX, x0 + maxX);
    tally.maxY = Math.max(tally.maxY, y0 + maxY);
    this.#take(points, count);
  }

  #round(xy: Float64Array, count: number): number {
    if (this.#points.length < 2 * count) this.#points = new Int32Array(4 * count);
    const points = this.#points;
    const scale = this.#scale;
    let used = 0;
    let lastX = Number.NaN;
    let lastY = Number.NaN;
    let farthest = 0;
    for (let k = 0; k < 2 * count; k += 2) {
      const x = Math.floor(xy[k]! * scale + 0.5);
      const y = Math.floor(xy[k + 1]! * scale + 0.5);
      if (x === lastX && y === lastY) continue;
      farthest = Math.max(farthest, Math.abs(x), Math.abs(y));
      points[used++] = x;
      points[used++] = y;
      lastX = x;
      lastY = y;
    }
    if (!(farthest <= FARTHEST))
      throw new RangeError(
        `a vertex ${farthest} database units from the origin does not fit in 32 bits; expected at most ${FARTHEST}: use a coarser unit`,
      );
    while (used > 2 && points[0] === points[used - 2] && points[1] === points[used - 1]) used -= 2;
    return used / 2;
  }
}

/** A polygon cut across the longer side of its box until every part has at most `limit` vertices. */
function split(points: Int32Array, count: number, limit: number): Int32Array[] {
  const work: Int32Array[] = [points.slice(0, 2 * count)];
  const parts: Int32Array[] = [];
  for (let part = work.pop(); part !== undefined; part = work.pop()) {
    if (part.length <= 2 * limit) {
      parts.push(part);
      continue;
    }
    const { left, right } = cutByLine([loopOf(part)], middleLine(part));
    const halves = [...left, ...right].map(pointsOf);
    if (halves.length < 2)
      throw new RangeError(`a polygon of ${part.length / 2} vertices could not be cut to ${limit}`);
    work.push(...halves.reverse());
  }
  return parts;
}

/** Across the longer side of the box, through the middle vertex by rank: each part has about half of the vertices. */
function middleLine(points: Int32Array): Line {
  const xs = points.filter((_, k) => k % 2 === 0).sort();
  const ys = points.filter((_, k) => k % 2 === 1).sort();
  const wide = xs[xs.length - 1]! - xs[0]! >= ys[ys.length - 1]! - ys[0]!;
  return wide ? { at: [middleOf(xs), 0], along: [0, 1] } : { at: [0, middleOf(ys)], along: [1, 0] };
}

/** The middle value by rank, or half way where that is an end: many vertices may stand on an earlier cut. */
function middleOf(sorted: Int32Array): number {
  const [least, middle, most] = [sorted[0]!, sorted[sorted.length >> 1]!, sorted[sorted.length - 1]!];
  return middle > least && middle < most ? middle : Math.floor((least + most) / 2);
}

const loopOf = (points: Int32Array): Loop =>
  Array.from({ length: points.length / 2 }, (_, k): Segment => {
    const next = (2 * k + 2) % points.length;
    return {
      kind: 'segment',
      from: [points[2 * k]!, points[2 * k + 1]!],
      to: [points[next]!, points[next + 1]!],
    };
  });

function pointsOf(loop: Loop): Int32Array {
  const points: number[] = [];
  for (const piece of loop) {
    const [x, y] = (piece as Segment).from.map((value) => Math.floor(value + 0.5)) as [number, number];
    if (points.length > 0 && points[points.length - 2] === x && points[points.length - 1] === y) continue;
    points.push(x, y);
  }
  while (
    points.length > 2 &&
    points[0] === points[points.length - 2] &&
    points[1] === points[points.length - 1]
  )
    points.length -= 2;
  return Int32Array.from(points);
}
