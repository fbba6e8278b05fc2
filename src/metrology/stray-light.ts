/**
 * Light that comes home by another way than the one designed: orders of every patch, and the main pattern's zero order, sent to
 * every reference's aperture and back onto the patches, ray by ray through the glass as it is. mm; intensities as fractions.
 *
 * A ray leaves zone Z in order k, meets the real ball or cube, comes back to P* inside patch J and goes on in order k′. It is
 * seen where its direction then differs from that of the beam's own return by no more than the camera resolves, half a fringe a
 * pixel: finer fringes are not seen, and spatial filters are set to about that. On J its brightness is η_k η_k′ against the
 * wanted return's η_m², times how much it is concentrated or spread on the way; the reference's reflectance is taken as the same.
 * What passes beside all patterns is not followed. Source: optics/return-trip.ts for the trip, optics/efficiency.ts for η.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { periodRange } from '../design/period-range.ts';
import { covers } from '../geometry/contains.ts';
import { areaOf, boundsOf, largestDistanceFrom } from '../geometry/extent.ts';
import { outlineFinder } from '../geometry/outline-at.ts';
import { cross2, subtract2, type Vec2 } from '../geometry/vector.ts';
import { CLEAR_APERTURE_OF_BALL, idealCube } from '../optics/corner-cube.ts';
import { orderEfficiency } from '../optics/efficiency.ts';
import { tripOf } from '../optics/return-trip.ts';
import { type Reference, returnsFocus } from '../scenario/scenario.ts';
import { MOST_FRINGES_PER_PIXEL, pixelPitch } from './camera-pixels.ts';
import { cubeOf } from './retroreflector.ts';
import {
  AROUND,
  along,
  FINEST,
  type LitCell,
  litCells,
  nodeOf,
  slopesAt,
  type Target,
  type Zone,
  zoneOf,
} from './stray-cells.ts';

/** Orders that are followed, either way. */
export const MOST_ORDER = 5;
/** The keep-out that stands for the main pattern. */
export const MAIN = 'main';

export interface StrayReturn {
  /** The patch that it comes from, or `main`. */
  readonly source: string;
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

/** A cell is fine enough when the slopes of what it sends home differ by no more than this, against the acceptance. */
const FINE_AT_ACCEPTANCE = 1 / 2;
/** An order that gets less of the light than this is dark: the even ones at a duty cycle of a half. */
const DARK = 1e-6;

/**
 * What comes home, in the order of sources, orders, references and patches. Light that cannot come to a product of brightness and
 * share of `leastPower` on any patch is left out before it is traced; with 0 everything is followed, however faint.
 */
export function strayReturns(design: Design, leastPower = 0): readonly StrayReturn[] {
  const main = design.scenario.keepOuts.find(({ id }) => id === MAIN);
  const zones: Zone[] = design.patches.map((patch) => zoneOf(patch.id, patch.outline, patch));
  if (main !== undefined) zones.push(zoneOf(MAIN, main.outline, undefined));
  const targets = design.references.flatMap((reference) => targetOf(design, reference));
  const finder = outlineFinder(design.patches.map(({ outline }) => outline));
  const homeAt = (at: Vec2): DesignedPatch | undefined => {
    const index = finder(at);
    return index === undefined ? undefined : design.patches[index];
  };
  const power = powerOfArea(design);
  const leastArea = (order: number): number => leastPower / (power * efficiencyOf(design, order));
  return zones.flatMap((zone) => {
    const orders = zone.patch === undefined ? [0] : allOrders();
    return orders
      .filter((order) => efficiencyOf(design, order) > DARK)
      .flatMap((order) =>
        targets
          .filter((target) => !(isDesignedWay(zone, order, target) && keepsOrdersApart(design, zone)))
          .flatMap((target) => homecoming(design, zone, order, target, homeAt, leastArea(order))),
      );
  });
}

/** Whether this is how the patch's own light goes out. */
const isDesignedWay = (zone: Zone, order: number, target: Target): boolean =>
  zone.patch?.order === order && zone.patch.reference.id === target.reference.id;

/** Against what the bias and a displaced return add to a slope. */
const APART = 2;

/**
 * The designed way back meets the patch as it left it, so that another order of the same patch differs from it by λ|∇Φ| at
 * least: where that is clear of the acceptance all over the patch, none is seen, and no ray need be traced.
 */
function keepsOrdersApart(design: Design, { patch, outline }: Zone): boolean {
  if (patch === undefined) return false;
  const bounds = boundsOf(outline);
  const [x, y] = [(bounds.minX + bounds.maxX) / 2, (bounds.minY + bounds.maxY) / 2];
  const reach = largestDistanceFrom(outline, [x, y]);
  const needed = (APART * acceptanceOf(design)) / design.light.wavelength;
  const surely = Math.hypot(...patch.phase.gradient(x, y)) - patch.phase.curvatureBound(bounds) * reach;
  return surely > needed || 1 / periodRange(patch).max > needed;
}

/** Half a fringe a pixel, as a difference of slopes. */
const acceptanceOf = (design: Design): number =>
  (MOST_FRINGES_PER_PIXEL * design.light.wavelength) / pixelPitch(design);

const allOrders = (): number[] => Array.from({ length: 2 * MOST_ORDER + 1 }, (_, k) => k - MOST_ORDER);

const efficiencyOf = ({ scenario: { process } }: Design, order: number): number =>
  orderEfficiency(process.kind, order, process.dutyCycle);

/** The reference as light meets it; a cube that no patch looks at is taken to face the substrate. */
function targetOf(design: Design, reference: Reference): Target[] {
  const { kind, at, diameter } = reference;
  if (!returnsFocus(kind)) return [];
  if (kind === 'ball') {
    const radius = (diameter as number) / 2;
    return [{ reference, traced: { kind, centre: at, radius }, radius }];
  }
  const seen = design.patches.some((patch) => patch.reference.id === reference.id);
  const clearRadius = diameter === undefined ? DEFAULT_APERTURE : (diameter / 2) * CLEAR_APERTURE_OF_BALL;
  const cube = seen ? cubeOf(design, reference) : idealCube(at, [0, 0, 0]);
  // What the edges lose decides nothing here.
  return [
    {
      reference,
      traced: { kind: 'cube', ...cube, clearRadius, edgeBand: 0, apexZone: 0 },
      radius: clearRadius,
    },
  ];
}

/** Clear radius of a cube whose sphere the scenario does not give, mm: that of a 1.5 in one. */
const DEFAULT_APERTURE = (38.1 / 2) * CLEAR_APERTURE_OF_BALL;

/** The light of one order of one zone that one reference sends home, by patch and order back. */
function homecoming(
  design: Design,
  zone: Zone,
  order: number,
  target: Target,
  homeAt: (at: Vec2) => DesignedPatch | undefined,
  leastArea: number,
): StrayReturn[] {
  const lit = litCells(design, zone, order, target, leastArea);
  if (lit.length === 0) return [];
  const found = new Map<string, Gathered>();
  const acceptance = acceptanceOf(design);
  const ordersBack = allOrders().filter((back) => efficiencyOf(design, back) > DARK);
  const returnFrom = (i: number, j: number): Homecoming | undefined => {
    const { at, incident, pattern } = nodeOf(design, zone, i, j);
    const trip = tripOf(design, target.traced, at, along(incident, pattern, order));
    if (typeof trip === 'string') return undefined;
    const home = homeAt(trip.at);
    if (home === undefined) return undefined;
    const there = slopesAt(design, home, trip.at);
    const slope = (back: number): number => {
      if (isWanted(zone, order, target, home, back)) return Infinity;
      const [x, y] = along(there.incident, there.pattern, back);
      return Math.hypot(trip.cosines[0] + x, trip.cosines[1] + y);
    };
    return { home, at: trip.at, slopes: ordersBack.map(slope) };
  };
  /** Cuts a cell until its slopes are told apart from the acceptance, or until it is one of the finest. */
  const settle = ({ i, j, side }: LitCell): void => {
    const middle = returnFrom(i + side / 2, j + side / 2);
    const corners = AROUND.map(([right, up]) => returnFrom(i + right * side, j + up * side));
    const state = stateOf(middle, corners, ordersBack.length, acceptance);
    if (state === 'dark') return;
    if (side > FINEST && state === 'mixed') {
      for (const [right, up] of AROUND)
        settle({ i: i + (right * side) / 2, j: j + (up * side) / 2, side: side / 2 });
      return;
    }
    const { at } = nodeOf(design, zone, i + side / 2, j + side / 2);
    if (middle === undefined || !covers(zone.outline, at)) return;
    const area = zone.stepX * zone.stepY * side * side;
    const image = imageArea(corners);
    ordersBack.forEach((orderBack, k) => {
      if (!(middle.slopes[k]! <= acceptance)) return;
      const key = `${middle.home.id} ${orderBack}`;
      const sum = found.get(key) ?? { home: middle.home, orderBack, area: 0, measured: 0, image: 0 };
      found.set(key, sum);
      sum.area += area;
      if (image === undefined) return;
      sum.measured += area;
      sum.image += image;
    });
  };
  for (const cell of lit) settle(cell);
  return [...found.values()].map(({ home: patch, orderBack, area, measured, image }): StrayReturn => {
    const whole = areaOf(patch.outline);
    // Where no cell came home whole the light is taken to keep its size.
    const stretch = measured > 0 ? Math.max(image / measured, area > 0 ? LEAST_STRETCH : 0) : 1;
    const efficiency = efficiencyOf(design, order) * efficiencyOf(design, orderBack);
    return {
      source: zone.id,
      orderOut: order,
      reference: target.reference.id,
      patch,
      orderBack,
      share: Math.min(1, (area * stretch) / whole),
      brightness: efficiency / stretch / efficiencyOf(design, patch.order) ** 2,
    };
  });
}

/**
 * Brightness times share that 1 mm² of a zone comes to, but for the efficiency of its order out, if all of it comes home in the
 * brightest order on the faintest patch.
 */
function powerOfArea(design: Design): number {
  const back = Math.max(...allOrders().map((other) => efficiencyOf(design, other)));
  const wanted = Math.min(
    ...design.patches.map((patch) => efficiencyOf(design, patch.order) ** 2 * areaOf(patch.outline)),
  );
  return back / wanted;
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

/** Whether a cell sends nothing home, or the same all over, or something that finer cells would tell. */
function stateOf(
  middle: Homecoming | undefined,
  corners: readonly (Homecoming | undefined)[],
  orders: number,
  acceptance: number,
): 'dark' | 'even' | 'mixed' {
  const all = [middle, ...corners].flatMap((one) => (one === undefined ? [] : [one]));
  if (all.length === 0) return 'dark';
  const whole = middle !== undefined && all.length === 5 && all.every(({ home }) => home === middle.home);
  let state: 'dark' | 'even' = 'dark';
  for (let k = 0; k < orders; k++) {
    const slopes = all.map((one) => one.slopes[k]!);
    const least = Math.min(...slopes);
    if (least === Infinity) continue;
    const spread = 1.5 * (Math.max(...slopes.filter(Number.isFinite)) - least);
    if (least - spread > acceptance) continue;
    if (!whole || spread > FINE_AT_ACCEPTANCE * acceptance) return 'mixed';
    state = 'even';
  }
  return state;
}

/** What a cell covers where it comes home, mm², by its corners; undefined where one of them does not. */
function imageArea(corners: readonly (Homecoming | undefined)[]): number | undefined {
  const [a, b, c, d] = corners;
  if (a === undefined || b === undefined || c === undefined || d === undefined) return undefined;
  // Corners in the order of AROUND: half the cross product of the diagonals.
  return Math.abs(cross2(subtract2(c.at, a.at), subtract2(d.at, b.at))) / 2;
}

const isWanted = (
  zone: Zone,
  order: number,
  target: Target,
  patch: DesignedPatch,
  orderBack: number,
): boolean =>
  zone.patch === patch &&
  order === patch.order &&
  orderBack === patch.order &&
  target.reference.id === patch.reference.id;
