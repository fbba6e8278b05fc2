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

/** Where a polygon lies against the ridge. */
class Stretch {
  readonly polygon: number;
  /** Nodes where the walk along the polygon comes to the ridge and leaves it. */
  readonly first: number;
  readonly last: number;
  /** Along the ridge, ascending. */
  readonly from: number;
  readonly to: number;

  constructor(polygon: number, first: number, last: number, from: number, to: number) {
    this.polygon = polygon;
    this.first = first;
    this.last = last;
    this.from = from;
    this.to = to;
  }
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
    let window = Number.POSITIVE_INFINITY;
    for (const one of next) if (!one.done) window = Math.min(window, windowOf(one.value.order));
    if (window === Number.POSITIVE_INFINITY) return;
    const meetings = new Map<number, RidgeMeeting>();
    nodes.clear();
    for (let region = 0; region < regions.length; region++) {
      const { side, zones } = regions[region]!;
      let one = next[region]!;
      while (!one.done && windowOf(one.value.order) === window) {
        const zone = one.value;
        if (nodes.touchedBy(zone)) {
          let meeting = meetings.get(zone.order);
          if (meeting === undefined) {
            meeting = new RidgeMeeting(zone.order, nodes);
            meetings.set(zone.order, meeting);
          }
          meeting.add(zone, side, region);
        } else yield zone;
        one = zones.next();
      }
      next[region] = one;
    }
    for (const meeting of meetings.values()) yield* meeting.joined(outline);
  }
}

/** No node, no region. */
const NONE = -1;

/** The polygons of one zone that touch the ridge. */
class RidgeMeeting {
  readonly #order: number;
  readonly #nodes: RidgeNodes;
  /** Of each polygon a node; NONE once it has gone into another. */
  readonly #starts: number[] = [];
  /** Of each polygon the one that it has gone into, and the region on either side within that. */
  readonly #into: number[] = [];
  readonly #leftRegions: number[] = [];
  readonly #rightRegions: number[] = [];
  readonly #left: Stretch[] = [];
  readonly #right: Stretch[] = [];

  constructor(order: number, nodes: RidgeNodes) {
    this.#order = order;
    this.#nodes = nodes;
  }

  /** `zone`: the one that the nodes were asked about last. */
  add(zone: WrittenZone, side: 'left' | 'right', region: number): void {
    const nodes = this.#nodes;
    const { count } = zone;
    const isLeft = side === 'left';
    const start = nodes.addRing(zone);
    const polygon = this.#starts.push(start) - 1;
    this.#into.push(polygon);
    this.#leftRegions.push(isLeft ? region : NONE);
    this.#rightRegions.push(isLeft ? NONE : region);
    const stretches = isLeft ? this.#left : this.#right;
    for (let k = 0; k < count; k++) {
      if (!nodes.on(k) || nodes.on((k + count - 1) % count)) continue;
      let length = 0;
      while (nodes.on((k + length + 1) % count)) length++;
      const first = start + k;
      const last = start + ((k + length) % count);
      // The inside is on the left of the walk: those on the left of the ridge go along it, the others back.
      const from = nodes.alongOf(isLeft ? first : last);
      const to = nodes.alongOf(isLeft ? last : first);
      if (to - from > TOGETHER) stretches.push(new Stretch(polygon, first, last, from, to));
    }
  }

  *joined(outline: ZoneOutline): Generator<WrittenZone> {
    for (const one of this.#left) {
      const other = theOnlyAgainst(one, this.#right);
      if (other !== undefined && theOnlyAgainst(other, this.#left) === one) this.#join(one, other);
    }
    for (const start of this.#starts) {
      if (start === NONE) continue;
      this.#nodes.outlineOf(start, outline);
      yield { order: this.#order, xy: outline.xy, count: outline.used >> 1 };
    }
  }

  #join(left: Stretch, right: Stretch): void {
    const one = this.#rootOf(left.polygon);
    const other = this.#rootOf(right.polygon);
    if (one === other) return;
    const leftRegions = this.#leftRegions;
    const rightRegions = this.#rightRegions;
    if (!areOne(leftRegions[one]!, leftRegions[other]!) || !areOne(rightRegions[one]!, rightRegions[other]!))
      return;
    leftRegions[one] = Math.max(leftRegions[one]!, leftRegions[other]!);
    rightRegions[one] = Math.max(rightRegions[one]!, rightRegions[other]!);
    this.#into[other] = one;
    this.#starts[other] = NONE;
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

/** Whether two regions of one side, or one and none, can be parts of one polygon. */
const areOne = (a: number, b: number): boolean => a === NONE || b === NONE || a === b;

/** The stretch that lies against this one; undefined where none does, or several. */
function theOnlyAgainst(one: Stretch, others: readonly Stretch[]): Stretch | undefined {
  let found: Stretch | undefined;
  for (const other of others) {
    if (!overlap(one, other)) continue;
    if (found !== undefined) return undefined;
    found = other;
  }
  return found;
}

const overlap = (a: Stretch, b: Stretch): boolean =>
  Math.min(a.to, b.to) - Math.max(a.from, b.from) > TOGETHER;
