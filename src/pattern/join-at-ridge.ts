/**
 * Zones of the two sides of a roof, joined where they meet at its ridge: a polygon across the crease instead of two that abut, so that
 * sizing neither opens a gap there nor exposes the crease twice. mm.
 *
 * On the ridge Φ is the same from both sides, so that a zone meets it in the same stretches. Two polygons are joined along a stretch that
 * lies against one of the other side and of no third; never twice into the same polygon, which would close around a hole, and not with parts
 * of the same side that abut along another cut. What is left unjoined abuts as before.
 */
import { dot2, subtract2, type Vec2 } from '../geometry/vector.ts';
import type { Line } from './cut-region.ts';
import type { WrittenZone } from './region-zones.ts';
import { ZoneOutline } from './zone-outline.ts';

/** Vertices this near to the ridge stand on it: ten times ON_LINE, by which it is cut. */
const ON_RIDGE = 1e-9;
/** Ends this near together on both sides are one vertex: the rounding of crossings, and less than a grid's step. */
const TOGETHER = 1e-6;

interface SideZones {
  readonly side: 'left' | 'right';
  readonly zones: Iterator<WrittenZone>;
}

interface Stretch {
  readonly polygon: number;
  /** Nodes where the walk along the polygon comes to the ridge and leaves it. */
  readonly first: number;
  readonly last: number;
  /** Along the ridge, ascending. */
  readonly from: number;
  readonly to: number;
}

/**
 * All zones of the regions, each of which gives its zones in the order of `window`, windows ascending. At no time are more zones held than
 * those of one window that touch the ridge.
 */
export function* joinedAtRidge(
  regions: readonly SideZones[],
  ridge: Line,
  windowOf: (order: number) => number,
): Generator<WrittenZone> {
  const next = regions.map(({ zones }) => zones.next());
  for (;;) {
    const windows = next.flatMap((one) => (one.done ? [] : [windowOf(one.value.order)]));
    if (windows.length === 0) return;
    const window = Math.min(...windows);
    const meetings = new Map<number, RidgeMeeting>();
    for (const [region, { side, zones }] of regions.entries())
      for (let one = next[region]!; !one.done && windowOf(one.value.order) === window; ) {
        const zone = one.value;
        if (!touches(zone, ridge)) yield zone;
        else {
          if (!meetings.has(zone.order)) meetings.set(zone.order, new RidgeMeeting(ridge));
          meetings.get(zone.order)!.add(zone, side, region);
        }
        one = zones.next();
        next[region] = one;
      }
    for (const [order, meeting] of meetings) yield* meeting.joined(order);
  }
}

const isOn = ({ at, along }: Line, x: number, y: number): boolean =>
  Math.abs(along[0] * (y - at[1]) - along[1] * (x - at[0])) <= ON_RIDGE;

function touches({ xy, count }: WrittenZone, ridge: Line): boolean {
  for (let k = 0; k < 2 * count; k += 2) if (isOn(ridge, xy[k]!, xy[k + 1]!)) return true;
  return false;
}

/** The polygons of one zone that touch the ridge, as rings of nodes that joining links anew. */
class RidgeMeeting {
  readonly #ridge: Line;
  readonly #points: Vec2[] = [];
  readonly #next: number[] = [];
  readonly #before: number[] = [];
  /** Of each polygon a node; undefined once it has gone into another. */
  readonly #starts: (number | undefined)[] = [];
  /** Of each polygon the one that it has gone into, and the regions within that, by side. */
  readonly #into: number[] = [];
  readonly #regions: { left?: number; right?: number }[] = [];
  readonly #stretches: { left: Stretch[]; right: Stretch[] } = { left: [], right: [] };

  constructor(ridge: Line) {
    this.#ridge = ridge;
  }

  add({ xy, count }: WrittenZone, side: 'left' | 'right', region: number): void {
    const start = this.#points.length;
    for (let k = 0; k < count; k++) {
      this.#points.push([xy[2 * k]!, xy[2 * k + 1]!]);
      this.#next.push(start + ((k + 1) % count));
      this.#before.push(start + ((k + count - 1) % count));
    }
    const polygon = this.#starts.push(start) - 1;
    this.#into.push(polygon);
    this.#regions.push({ [side]: region });
    const on = Array.from({ length: count }, (_, k) => isOn(this.#ridge, xy[2 * k]!, xy[2 * k + 1]!));
    if (on.every(Boolean)) return;
    for (let k = 0; k < count; k++) {
      if (!on[k] || on[(k + count - 1) % count]) continue;
      let length = 0;
      while (on[(k + length + 1) % count]) length++;
      const [first, last] = [start + k, start + ((k + length) % count)];
      const [a, b] = [this.#alongOf(first), this.#alongOf(last)];
      // The inside is on the left of the walk: those on the left of the ridge go along it, the others back.
      const [from, to] = side === 'left' ? [a, b] : [b, a];
      if (to - from > TOGETHER) this.#stretches[side].push({ polygon, first, last, from, to });
    }
  }

  *joined(order: number): Generator<WrittenZone> {
    const { left, right } = this.#stretches;
    for (const one of left) {
      const against = right.filter((other) => overlap(one, other));
      const [other] = against;
      if (other === undefined || against.length > 1) continue;
      if (left.some((third) => third !== one && overlap(third, other))) continue;
      this.#join(one, other);
    }
    const outline = new ZoneOutline();
    for (const start of this.#starts) {
      if (start === undefined) continue;
      outline.clear();
      let node = start;
      do {
        outline.add(...this.#points[node]!);
        node = this.#next[node]!;
      } while (node !== start);
      yield { order, xy: outline.xy, count: outline.used / 2 };
    }
  }

  #join(left: Stretch, right: Stretch): void {
    const [one, other] = [this.#rootOf(left.polygon), this.#rootOf(right.polygon)];
    if (one === other) return;
    const [a, b] = [this.#regions[one]!, this.#regions[other]!];
    for (const side of ['left', 'right'] as const)
      if (a[side] !== undefined && b[side] !== undefined && a[side] !== b[side]) return;
    this.#regions[one] = { ...b, ...a };
    this.#into[other] = one;
    this.#starts[other] = undefined;
    this.#link(left.first, right.last, left.from - right.from);
    this.#linkBack(right.first, left.last, left.to - right.to);
    this.#starts[one] = left.first;
  }

  /** From the left polygon, where it comes to the ridge, on into the right one. */
  #link(from: number, to: number, apart: number): void {
    this.#connect(from, Math.abs(apart) <= TOGETHER ? this.#next[to]! : to);
  }

  /** From the right polygon back into the left one. */
  #linkBack(from: number, to: number, apart: number): void {
    this.#connect(Math.abs(apart) <= TOGETHER ? this.#before[from]! : from, to);
  }

  #connect(from: number, to: number): void {
    this.#next[from] = to;
    this.#before[to] = from;
  }

  #rootOf(polygon: number): number {
    let root = polygon;
    while (this.#into[root] !== root) root = this.#into[root]!;
    return root;
  }

  #alongOf(node: number): number {
    return dot2(this.#ridge.along, subtract2(this.#points[node]!, this.#ridge.at));
  }
}

const overlap = (a: Stretch, b: Stretch): boolean =>
  Math.min(a.to, b.to) - Math.max(a.from, b.from) > TOGETHER;
