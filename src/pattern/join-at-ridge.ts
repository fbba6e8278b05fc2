/**
 * Zones of the two sides of a roof, joined where they meet at its ridge: a polygon across the crease instead of two that abut, so that
 * sizing neither opens a gap there nor exposes the crease twice. mm.
 *
 * On the ridge Φ is the same from both sides, so that a zone meets it in the same stretches. Two polygons are joined along a stretch that
 * lies against one of the other side and of no third; never twice into the same polygon, which would close around a hole, and not with parts
 * of the same side that abut along another cut. What is left unjoined abuts as before.
 */
import type { Line } from './cut-region.ts';
import type { WrittenZone } from './region-zones.ts';
import { RidgeNodes } from './ridge-nodes.ts';
import { ZoneOutline } from './zone-outline.ts';

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
  const nodes = RidgeNodes.of(ridge);
  try {
    yield* joinedByWindows(regions, nodes, windowOf);
  } finally {
    nodes.release();
  }
}

function* joinedByWindows(
  regions: readonly SideZones[],
  nodes: RidgeNodes,
  windowOf: (order: number) => number,
): Generator<WrittenZone> {
  const next = regions.map(({ zones }) => zones.next());
  const outline = new ZoneOutline();
  for (;;) {
    const windows = next.flatMap((one) => (one.done ? [] : [windowOf(one.value.order)]));
    if (windows.length === 0) return;
    const window = Math.min(...windows);
    const meetings = new Map<number, RidgeMeeting>();
    nodes.clear();
    for (const [region, { side, zones }] of regions.entries())
      for (let one = next[region]!; !one.done && windowOf(one.value.order) === window; ) {
        const zone = one.value;
        if (nodes.touchedBy(zone)) {
          const meeting = meetings.get(zone.order) ?? new RidgeMeeting(nodes);
          meetings.set(zone.order, meeting);
          meeting.add(zone, side, region);
        } else yield zone;
        one = zones.next();
        next[region] = one;
      }
    for (const [order, meeting] of meetings) yield* meeting.joined(order, outline);
  }
}

/** The polygons of one zone that touch the ridge. */
class RidgeMeeting {
  readonly #nodes: RidgeNodes;
  /** Of each polygon a node; undefined once it has gone into another. */
  readonly #starts: (number | undefined)[] = [];
  /** Of each polygon the one that it has gone into, and the regions within that, by side. */
  readonly #into: number[] = [];
  readonly #regions: { left?: number; right?: number }[] = [];
  readonly #stretches: { left: Stretch[]; right: Stretch[] } = { left: [], right: [] };

  constructor(nodes: RidgeNodes) {
    this.#nodes = nodes;
  }

  /** `zone`: the one that the nodes were asked about last. */
  add(zone: WrittenZone, side: 'left' | 'right', region: number): void {
    const [nodes, { count }] = [this.#nodes, zone];
    const start = nodes.addRing(zone);
    const polygon = this.#starts.push(start) - 1;
    this.#into.push(polygon);
    this.#regions.push({ [side]: region });
    for (let k = 0; k < count; k++) {
      if (!nodes.on(k) || nodes.on((k + count - 1) % count)) continue;
      let length = 0;
      while (nodes.on((k + length + 1) % count)) length++;
      const [first, last] = [start + k, start + ((k + length) % count)];
      const [a, b] = [nodes.alongOf(first), nodes.alongOf(last)];
      // The inside is on the left of the walk: those on the left of the ridge go along it, the others back.
      const [from, to] = side === 'left' ? [a, b] : [b, a];
      if (to - from > TOGETHER) this.#stretches[side].push({ polygon, first, last, from, to });
    }
  }

  *joined(order: number, outline: ZoneOutline): Generator<WrittenZone> {
    const { left, right } = this.#stretches;
    for (const one of left) {
      const against = right.filter((other) => overlap(one, other));
      const [other] = against;
      if (other === undefined || against.length > 1) continue;
      if (left.some((third) => third !== one && overlap(third, other))) continue;
      this.#join(one, other);
    }
    for (const start of this.#starts) {
      if (start === undefined) continue;
      this.#nodes.outlineOf(start, outline);
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
    this.#nodes.connect(from, Math.abs(apart) <= TOGETHER ? this.#nodes.next[to]! : to);
  }

  /** From the right polygon back into the left one. */
  #linkBack(from: number, to: number, apart: number): void {
    this.#nodes.connect(Math.abs(apart) <= TOGETHER ? this.#nodes.before[from]! : from, to);
  }

  #rootOf(polygon: number): number {
    let root = polygon;
    while (this.#into[root] !== root) root = this.#into[root]!;
    return root;
  }
}

const overlap = (a: Stretch, b: Stretch): boolean =>
  Math.min(a.to, b.to) - Math.max(a.from, b.from) > TOGETHER;
