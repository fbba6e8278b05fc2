/**
 * Polygons of mm brought to the file's grid: rounded to whole database units, vertices that fall together joined, polygons
 * without area dropped, those beyond the vertex limit cut in two along straight lines until each fits; parts abut.
 */
import type { Loop, Segment } from '../../geometry/piece.ts';
import { cutByLine, type Line } from '../../pattern/cut-region.ts';
import { isSliver } from './sliver.ts';

/** The farthest coordinate that both formats' readers take: 32 bits, signed. */
const FARTHEST = 2 ** 31 - 1;
const LEAST_VERTEX_LIMIT = 4;

interface PolygonTally {
  polygons: number;
  vertices: number;
  /** Polygons that vanished in the rounding. */
  dropped: number;
  /** Slivers: written or left out, as asked. */
  slivers: number;
  /** Twice the area of what was written, in database units. */
  twiceArea: number;
}

export const emptyTally = (): PolygonTally => ({
  polygons: 0,
  vertices: 0,
  dropped: 0,
  slivers: 0,
  twiceArea: 0,
});

/** What to do with polygons nowhere as wide as `width`, mm. */
export interface SliverRule {
  readonly width: number;
  readonly drop: boolean;
}

type PolygonTaker = (points: Int32Array, count: number) => void;

export class DatabasePolygons {
  readonly #scale: number;
  readonly #limit: number;
  readonly #take: PolygonTaker;
  readonly #mirrored: boolean;
  #points = new Int32Array(4096);
  tally = emptyTally();

  /** `scale`: database units a mm; `limit`: most vertices of a polygon; `mirrored`: x becomes -x. */
  constructor(scale: number, limit: number, take: PolygonTaker, mirrored = false) {
    if (!(Number.isInteger(limit) && limit >= LEAST_VERTEX_LIMIT))
      throw new RangeError(
        `the vertex limit is ${limit}; expected a whole number from ${LEAST_VERTEX_LIMIT} on`,
      );
    this.#scale = scale;
    this.#limit = limit;
    this.#take = take;
    this.#mirrored = mirrored;
  }

  /** `count` vertices, x and y by turns, mm, counterclockwise. */
  add(xy: Float64Array, count: number, slivers?: SliverRule): void {
    if (this.#points.length < 2 * count) this.#points = new Int32Array(4 * count);
    const kept = onGrid(xy, count, this.#scale, this.#points);
    if (kept < 3) {
      this.tally.dropped++;
      return;
    }
    const points = this.#points;
    if (this.#mirrored) mirror(points, kept);
    if (slivers !== undefined && isSliver(points, kept, slivers.width * this.#scale)) {
      this.tally.slivers++;
      if (slivers.drop) return;
    }
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
    for (let k = 2; k < 2 * count; k += 2) {
      const qx = points[k]! - x0;
      const qy = points[k + 1]! - y0;
      twice += px * qy - qx * py;
      px = qx;
      py = qy;
    }
    if (!(twice > 0)) {
      tally.dropped++;
      return;
    }
    tally.polygons++;
    tally.vertices += count;
    tally.twiceArea += twice;
    this.#take(points, count);
  }
}

/** x to -x, the order turned round so that it stays counterclockwise. */
function mirror(points: Int32Array, count: number): void {
  points.subarray(0, 2 * count).reverse();
  for (let k = 0; k < 2 * count; k += 2) {
    const y = points[k]!;
    points[k] = -points[k + 1]!;
    points[k + 1] = y;
  }
}

/** `count` vertices, times `scale` and rounded, into `out` but for those that fall on the one before; how many there are. */
function onGrid(xy: Float64Array, count: number, scale: number, out: Int32Array): number {
  let used = 0;
  let lastX = Number.NaN;
  let lastY = Number.NaN;
  let farthest = 0;
  for (let k = 0; k < 2 * count; k += 2) {
    const x = Math.floor(xy[k]! * scale + 0.5);
    const y = Math.floor(xy[k + 1]! * scale + 0.5);
    if (x === lastX && y === lastY) continue;
    farthest = Math.max(farthest, Math.abs(x), Math.abs(y));
    out[used++] = x;
    out[used++] = y;
    lastX = x;
    lastY = y;
  }
  if (!(farthest <= FARTHEST))
    throw new RangeError(
      `a vertex ${farthest} database units from the origin does not fit in 32 bits; expected at most ${FARTHEST}: use a coarser unit`,
    );
  while (used > 2 && out[0] === out[used - 2] && out[1] === out[used - 1]) used -= 2;
  return used / 2;
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
  const points = new Int32Array(2 * loop.length);
  const corners = Float64Array.from(loop.flatMap((piece) => (piece as Segment).from));
  return points.slice(0, 2 * onGrid(corners, loop.length, 1, points));
}
