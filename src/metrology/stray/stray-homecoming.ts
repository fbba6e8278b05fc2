/**
 * What one order of one patch, of the main pattern or of a keep-out's sends home by way of one reference. mm; slopes are lateral direction cosines.
 *
 * A ray leaves zone Z in order k, meets the real ball or cube, comes back to P* inside patch J and goes on in order k′. It is
 * seen where its direction then differs from that of the beam's own return by no more than the camera resolves, half a fringe a
 * pixel: finer fringes are not seen, and spatial filters are set to about that. On J its brightness is η_k η_k′ against the
 * wanted return's η_m², times how much it is concentrated or spread on the way; the reference's reflectance is taken as the same.
 * Source: optics/round-trip.ts for the trip, optics/efficiency.ts for η.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import { areaOf } from '../../geometry/extent.ts';
import { cross2, subtract2, type Vec2 } from '../../geometry/vector.ts';
import { tripOf } from '../../optics/round-trip.ts';
import { MOST_FRINGES_PER_PIXEL, pixelPitch } from '../sensing/camera-pixels.ts';
import {
  AROUND,
  FINEST,
  keyOf,
  type LitCell,
  litCells,
  nodeOf,
  quartersOf,
  SPREAD,
  slopesAfter,
  slopesAt,
  type Target,
  type Zone,
} from './stray-cells.ts';

export interface StrayReturn {
  /** The patch that it comes from, the main pattern, or the keep-out with a pattern. */
  readonly source: { readonly kind: 'patch' | 'main' | 'keep-out'; readonly id: string };
  readonly orderOut: number;
  /** The reference that it meets. */
  readonly reference: string;
  readonly patch: DesignedPatch;
  readonly orderBack: number;
  /** Of the patch's area, where the stray light is seen. */
  readonly share: number;
  /** Intensity there, against the wanted return's. */
  readonly brightness: number;
}

/** The orders that get light worth following, and how much of it. */
export interface Orders {
  readonly bright: readonly number[];
  readonly efficiency: (order: number) => number;
}

/** The light of one order of one zone on its way to one reference. */
interface StrayWay {
  readonly design: Design;
  readonly zone: Zone;
  readonly order: number;
  readonly target: Target;
  /** Whether the zone's own light is meant to go this way. */
  readonly designed: boolean;
  readonly homeAt: (at: Vec2) => DesignedPatch | undefined;
  readonly orders: Orders;
  /** Less than this of the zone is not worth tracing, mm². */
  readonly leastArea: number;
}

/** A cell is fine enough when the slopes of what it sends home differ by no more than this, against the acceptance. */
const FINE_AT_ACCEPTANCE = 1 / 2;
/**
 * Cells that are part one thing and part another are cut until they are no more than this part of what is seen: told by their
 * middles, some dozens of them leave the area uncertain by a tenth of it at most, and by a per cent as a rule.
 */
const MOST_MIXED = 1 / 4;

/** Half a fringe a pixel, as a difference of slopes. */
export const acceptanceOf = (design: Design): number =>
  (MOST_FRINGES_PER_PIXEL * design.light.wavelength) / pixelPitch(design);

/** What comes home, by patch and order back. */
export function homecoming(way: StrayWay): StrayReturn[] {
  const { design, zone, order, target, orders } = way;
  const lit = litCells(design, zone, order, target, way.leastArea, way.designed);
  if (lit.length === 0) return [];
  const acceptance = acceptanceOf(design);
  const returnFrom = returnsOf(way);
  const found = new Map<string, Gathered>();
  let seen = 0;
  const gather = ({ i, j, side }: LitCell, middle: Homecoming | undefined, corners: Corners): void => {
    const { at } = nodeOf(design, zone, i + side / 2, j + side / 2);
    if (middle === undefined || !covers(zone.outline, at)) return;
    const area = zone.stepX * zone.stepY * side * side;
    const image = imageArea(middle, corners);
    orders.bright.forEach((orderBack, k) => {
      if (!(middle.slopes[k]! <= acceptance)) return;
      const key = `${middle.home.id} ${orderBack}`;
      const sum = found.get(key) ?? { home: middle.home, orderBack, area: 0, measured: 0, image: 0 };
      found.set(key, sum);
      sum.area += area;
      if (image === undefined) return;
      sum.measured += area;
      sum.image += image;
    });
    seen += area;
  };
  let open: readonly LitCell[] = lit;
  while (open.length > 0) {
    const mixed: { cell: LitCell; middle: Homecoming | undefined; corners: Corners }[] = [];
    let mixedArea = 0;
    for (const cell of open) {
      const { i, j, side } = cell;
      const middle = returnFrom(i + side / 2, j + side / 2);
      const corners = AROUND.map(([right, up]) => returnFrom(i + right * side, j + up * side));
      const state = stateOf(middle, corners, orders.bright.length, acceptance);
      if (state === 'even') gather(cell, middle, corners);
      if (state !== 'mixed') continue;
      mixed.push({ cell, middle, corners });
      mixedArea += zone.stepX * zone.stepY * side * side;
    }
    const settled = mixedArea <= MOST_MIXED * (seen + mixedArea);
    open = mixed.flatMap(({ cell, middle, corners }) => {
      if (!settled && cell.side > FINEST) return quartersOf(cell);
      gather(cell, middle, corners);
      return [];
    });
  }
  const out = orders.efficiency(order);
  return [...found.values()].map(({ home: patch, orderBack, area, measured, image }): StrayReturn => {
    // Where no cell came home whole the light is taken to keep its size.
    const stretch = measured > 0 ? Math.max(image / measured, area > 0 ? LEAST_STRETCH : 0) : 1;
    return {
      source: { kind: sourceKind(design, zone), id: zone.id },
      orderOut: order,
      reference: target.reference.id,
      patch,
      orderBack,
      share: Math.min(1, (area * stretch) / areaOf(patch.outline)),
      brightness: (out * orders.efficiency(orderBack)) / stretch / orders.efficiency(patch.order) ** 2,
    };
  });
}

const sourceKind = ({ main }: Design, { pattern }: Zone): StrayReturn['source']['kind'] =>
  pattern === undefined ? 'keep-out' : pattern === main ? 'main' : 'patch';

/** What comes home from a node of the zone's lattice, each traced once. */
function returnsOf({ design, zone, order, target, designed, homeAt, orders }: StrayWay) {
  const traced = new Map<number, Homecoming | undefined>();
  const trace = (i: number, j: number): Homecoming | undefined => {
    const { at, incident, pattern } = nodeOf(design, zone, i, j);
    const trip = tripOf(design, target.traced, at, slopesAfter(incident, pattern, order));
    if (typeof trip === 'string') return undefined;
    const home = homeAt(trip.at);
    if (home === undefined) return undefined;
    const there = slopesAt(design, home, trip.at);
    const slope = (back: number): number => {
      if (designed && home === zone.pattern && back === order) return Infinity;
      const [x, y] = slopesAfter(there.incident, there.pattern, back);
      return Math.hypot(trip.cosines[0] + x, trip.cosines[1] + y);
    };
    return { home, at: trip.at, slopes: orders.bright.map(slope) };
  };
  return (i: number, j: number): Homecoming | undefined => {
    const key = keyOf(i, j);
    if (!traced.has(key)) traced.set(key, trace(i, j));
    return traced.get(key);
  };
}

interface Gathered {
  readonly home: DesignedPatch;
  readonly orderBack: number;
  /** Of the zone, mm². */
  area: number;
  /** The part of it whose cells come home whole, and what they cover there. */
  measured: number;
  image: number;
}

/** Light that comes back to a point has no area; its brightness is said as if it had this part of its first one. */
const LEAST_STRETCH = 1e-6;

interface Homecoming {
  readonly home: DesignedPatch;
  readonly at: Vec2;
  /** From the beam's own return, by order back; Infinity for the wanted return. */
  readonly slopes: readonly number[];
}

type Corners = readonly (Homecoming | undefined)[];

/** Whether a cell sends nothing home, or the same all over, or something that finer cells would tell. */
function stateOf(
  middle: Homecoming | undefined,
  corners: Corners,
  orders: number,
  acceptance: number,
): 'dark' | 'even' | 'mixed' {
  let whole = middle !== undefined;
  let any = whole;
  for (const corner of corners) {
    if (corner === undefined || corner.home !== middle?.home) whole = false;
    if (corner !== undefined) any = true;
  }
  if (!any) return 'dark';
  let state: 'dark' | 'even' = 'dark';
  for (let k = 0; k < orders; k++) {
    let least = Infinity;
    let most = 0;
    for (let n = -1; n < corners.length; n++) {
      const slope = (n < 0 ? middle : corners[n])?.slopes[k] ?? Infinity;
      least = Math.min(least, slope);
      if (slope < Infinity) most = Math.max(most, slope);
    }
    if (least === Infinity) continue;
    const spread = SPREAD * (most - least);
    if (least - spread > acceptance) continue;
    if (!whole || spread > FINE_AT_ACCEPTANCE * acceptance) return 'mixed';
    state = 'even';
  }
  return state;
}

/** What a cell covers where it comes home, mm²; undefined where a part of it does not, or where a roof's ridge tears it apart. */
function imageArea(middle: Homecoming, corners: Corners): number | undefined {
  const [a, b, c, d] = corners;
  if (a === undefined || b === undefined || c === undefined || d === undefined) return undefined;
  // Corners in the order of AROUND.
  const [rising, falling] = [subtract2(c.at, a.at), subtract2(d.at, b.at)];
  const offX = (a.at[0] + b.at[0] + c.at[0] + d.at[0]) / 4 - middle.at[0];
  const offY = (a.at[1] + b.at[1] + c.at[1] + d.at[1]) / 4 - middle.at[1];
  if (Math.hypot(offX, offY) > TORN * (Math.hypot(...rising) + Math.hypot(...falling))) return undefined;
  return Math.abs(cross2(rising, falling)) / 2;
}

/** The middle of a cell that comes home in one piece lies at the middle of its corners, to this part of its diagonals. */
const TORN = 1 / 16;
