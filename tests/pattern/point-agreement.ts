/**
 * Whether random points lie in the written zones as the exact phase says: an independent second way, point by point.
 * A point counts as wrong unless its distance from the nearest fringe edge, or from the patch's own, is within the bound.
 */
import { randomFrom } from '../../src/algebra/random.ts';
import { covers, distanceToEdge } from '../../src/geometry/contains.ts';
import { boundsOf } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import type { WrittenZone } from '../../src/pattern/region-zones.ts';

/** Levels at a value that Φ has at a stationary point are moved off it by 2e-5 waves. */
const LEVEL_MOVED = 2e-5;

export interface ExactPhase {
  phases(xs: Float64Array, ys: Float64Array): Float64Array;
  gradients(xs: Float64Array, ys: Float64Array): { gx: Float64Array; gy: Float64Array };
}

export interface Agreement {
  readonly points: number;
  readonly inside: number;
  /** Points within the bound of an edge, not judged. */
  readonly near: number;
  readonly wrong: readonly { x: number; y: number; phase: number; times: number; distance: number }[];
}

export function agreement(
  outline: Outline,
  exact: ExactPhase,
  zones: Iterable<WrittenZone>,
  dutyCycle: number,
  bound: number,
  count: number,
  grid = 0,
): Agreement {
  const { xs, ys } = randomPoints(outline, count);
  const phases = exact.phases(xs, ys);
  const { gx, gy } = exact.gradients(xs, ys);
  const byPhase = Uint32Array.from(xs.keys()).sort((a, b) => phases[a]! - phases[b]!);
  const sorted = Float64Array.from(byPhase, (k) => phases[k]!);
  const times = new Uint8Array(count);
  for (const { order, xy, count: vertices } of zones) {
    const polygon = grid > 0 ? xy.slice(0, 2 * vertices).map((v) => Math.round(v / grid) * grid) : xy;
    const strips = new Strips(polygon, vertices);
    // Every zone that may hold a point is within one order of it.
    for (let k = lowerBound(sorted, order - 1); k < count && sorted[k]! < order + 2; k++) {
      const point = byPhase[k]!;
      if (strips.holds(xs[point]!, ys[point]!)) times[point]!++;
    }
  }
  const wrong: Agreement['wrong'][number][] = [];
  let [inside, near] = [0, 0];
  for (let k = 0; k < count; k++) {
    const fraction = phases[k]! - Math.floor(phases[k]!);
    const expected = fraction < dutyCycle ? 1 : 0;
    inside += expected;
    const waves = Math.min(fraction, 1 - fraction, Math.abs(fraction - dutyCycle));
    const off = Math.max(0, waves - LEVEL_MOVED);
    // At a level where the phase stands still: on the edge, not nowhere.
    const distance = off === 0 ? 0 : off / Math.hypot(gx[k]!, gy[k]!);
    if (times[k] === expected) continue;
    const [x, y] = [xs[k]!, ys[k]!];
    if (distance <= bound || distanceToEdge(outline, [x, y]) <= bound) near++;
    else wrong.push({ x, y, phase: phases[k]!, times: times[k]!, distance });
  }
  return { points: count, inside, near, wrong };
}

export function areaOfZones(zones: Iterable<WrittenZone>): {
  area: number;
  least: number;
  count: number;
  vertices: number;
} {
  let [area, least, count, vertices] = [0, Number.POSITIVE_INFINITY, 0, 0];
  for (const zone of zones) {
    const own = polygonArea(zone.xy, zone.count);
    area += own;
    least = Math.min(least, own);
    count++;
    vertices += zone.count;
  }
  return { area, least, count, vertices };
}

export function polygonArea(xy: Float64Array, count: number): number {
  let sum = 0;
  for (let i = 0, j = count - 1; i < count; j = i++)
    sum +=
      (xy[2 * j]! - xy[0]!) * (xy[2 * i + 1]! - xy[1]!) - (xy[2 * i]! - xy[0]!) * (xy[2 * j + 1]! - xy[1]!);
  return sum / 2;
}

function randomPoints(outline: Outline, count: number): { xs: Float64Array; ys: Float64Array } {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const random = randomFrom('points in a pattern');
  const [xs, ys] = [new Float64Array(count), new Float64Array(count)];
  for (let k = 0; k < count; ) {
    xs[k] = minX + random.uniform() * (maxX - minX);
    ys[k] = minY + random.uniform() * (maxY - minY);
    if (covers(outline, [xs[k]!, ys[k]!])) k++;
  }
  return { xs, ys };
}

/** Sides of a polygon by the strips of y that they reach into, so that a point looks at those of its strip only. */
class Strips {
  readonly #xy: Float64Array;
  readonly #count: number;
  readonly #least: number;
  readonly #perMm: number;
  readonly #starts: Uint32Array;
  readonly #sides: Uint32Array;

  constructor(xy: Float64Array, count: number) {
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < count; i++) {
      least = Math.min(least, xy[2 * i + 1]!);
      most = Math.max(most, xy[2 * i + 1]!);
    }
    const strips = Math.max(1, count >> 2);
    this.#xy = xy;
    this.#count = count;
    this.#least = least;
    this.#perMm = most > least ? (strips - 1e-6) / (most - least) : 0;
    this.#starts = new Uint32Array(strips + 1);
    for (let i = 0; i < count; i++)
      for (let s = this.#strip(this.#low(i)); s <= this.#strip(this.#high(i)); s++) this.#starts[s + 1]++;
    for (let s = 0; s < strips; s++) this.#starts[s + 1] += this.#starts[s]!;
    this.#sides = new Uint32Array(this.#starts[strips]!);
    const next = this.#starts.slice();
    for (let i = 0; i < count; i++)
      for (let s = this.#strip(this.#low(i)); s <= this.#strip(this.#high(i)); s++)
        this.#sides[next[s]!++] = i;
  }

  holds(x: number, y: number): boolean {
    const s = this.#strip(y);
    if (s < 0 || s >= this.#starts.length - 1) return false;
    const xy = this.#xy;
    let inside = false;
    for (let k = this.#starts[s]!; k < this.#starts[s + 1]!; k++) {
      const i = this.#sides[k]!;
      const j = i + 1 === this.#count ? 0 : i + 1;
      const [px, py, qx, qy] = [xy[2 * i]!, xy[2 * i + 1]!, xy[2 * j]!, xy[2 * j + 1]!];
      if (py > y !== qy > y && x < px + ((y - py) / (qy - py)) * (qx - px)) inside = !inside;
    }
    return inside;
  }

  #strip = (y: number): number => Math.floor((y - this.#least) * this.#perMm);
  #next = (i: number): number => (i + 1 === this.#count ? 0 : i + 1);
  #low = (i: number): number => Math.min(this.#xy[2 * i + 1]!, this.#xy[2 * this.#next(i) + 1]!);
  #high = (i: number): number => Math.max(this.#xy[2 * i + 1]!, this.#xy[2 * this.#next(i) + 1]!);
}

function lowerBound(sorted: Float64Array, value: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
