/**
 * Polygons of mm brought to the file's grid: rounded to whole database units, vertices that fall together joined, tips whose sides cross cut
 * away (crossed-tips.ts), polygons without area dropped, those beyond the vertex limit cut in two along straight lines until each fits; parts abut.
 */
import { withoutCrossedTips } from './crossed-tips.ts';
import { onGrid } from './on-grid.ts';
import { isSliver } from './sliver.ts';
import { splitPolygon } from './split-polygon.ts';

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
    const kept = withoutCrossedTips(this.#points, onGrid(xy, count, this.#scale, this.#points));
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
      for (const part of splitPolygon(points, kept, this.#limit)) this.#give(part, part.length / 2);
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
