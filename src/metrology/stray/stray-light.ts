/**
 * Light that comes home by another way than the one designed: orders of every patch and of the main pattern, and the zero order of a keep-out's pattern, sent to
 * every reference's aperture and back onto the patches, ray by ray through the glass as it is (stray-homecoming.ts). mm;
 * intensities as fractions.
 *
 * Nearly every order of nearly every patch goes clear of nearly every reference. That is told from one ray a patch and bounds on
 * the others (`Aim`), so that the work grows with what may come home, not with patches times references.
 * What passes beside all patterns is not followed. Source: optics/round-trip.ts for the trip, optics/efficiency.ts for η.
 */

import { type Design, type DesignedPatch, patternsOf } from '../../design/design.ts';
import { efficiencyOf } from '../../design/grooves.ts';
import type { Pattern } from '../../design/pattern.ts';
import { periodRange } from '../../design/period-range.ts';
import { areaOf, boundsOf, largestDistanceFrom } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { outlineFinder } from '../../geometry/outline-index.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { CLEAR_APERTURE_OF_BALL, idealCube } from '../../optics/corner-cube.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { cubeOf } from '../sensing/retroreflector.ts';
import {
  AROUND,
  CENTRE,
  LATTICE,
  nodeOf,
  SPREAD,
  type Target,
  targetAngle,
  type Zone,
  zoneOf,
} from './stray-cells.ts';
import { acceptanceOf, homecoming, type Orders, type StrayReturn } from './stray-homecoming.ts';

export type { StrayReturn } from './stray-homecoming.ts';

/** Orders that are followed, either way. */
const MOST_ORDER = 5;
/** An order that gets less of the light than this is dark: the even ones at a duty cycle of a half. */
const DARK = 1e-6;

/**
 * What comes home, in the order of sources, orders, references and patches. Light that cannot come to a product of brightness and
 * share of `leastPower` on any patch is left out before it is traced; with 0 everything is followed, however faint.
 */
export function strayReturns(design: Design, leastPower = 0): readonly StrayReturn[] {
  const orders = brightOrders(design);
  const targets = targetsOf(design);
  if (design.patches.length === 0 || targets.length === 0) return [];
  const finder = outlineFinder(design.patches.map(({ outline }) => outline));
  const homeAt = (at: Vec2): DesignedPatch | undefined => {
    const index = finder(at);
    return index === undefined ? undefined : design.patches[index];
  };
  const power = powerOfArea(design, orders);
  const found: StrayReturn[] = [];
  const follow = (zone: Zone, ordersOut: readonly number[]): void => {
    const aim = aimOf(design, zone, targets);
    for (const order of ordersOut) {
      targets.forEach((target, t) => {
        if (passesClear(aim, order, t)) return;
        const designed = isDesignedWay(design, zone, order, target);
        if (designed && keepsOrdersApart(design, zone, orders)) return;
        const leastArea = leastPower / (power * orders.efficiency(order));
        found.push(...homecoming({ design, zone, order, target, designed, homeAt, orders, leastArea }));
      });
    }
  };
  const leastWidth = narrowest(design);
  const start = (id: string, outline: Outline, pattern?: Pattern): Zone =>
    zoneOf(id, outline, pattern, leastWidth);
  for (const { pattern } of patternsOf(design))
    follow(start(pattern.id, pattern.outline, pattern), orders.bright);
  if (orders.bright.includes(0))
    for (const { id, outline, pattern } of design.scenario.keepOuts)
      if (pattern) follow(start(id, outline), [0]);
  return found;
}

function brightOrders(design: Design): Orders {
  const efficiencies = new Map<number, number>();
  const efficiency = (order: number): number => {
    const known = efficiencies.get(order) ?? efficiencyOf(design, order);
    efficiencies.set(order, known);
    return known;
  };
  const all = Array.from({ length: 2 * MOST_ORDER + 1 }, (_, k) => k - MOST_ORDER);
  return { bright: all.filter((order) => efficiency(order) > DARK), efficiency };
}

/** The least width of any patch along x or y, mm. */
function narrowest({ patches }: Design): number {
  const widths = patches.map(({ outline }) => {
    const { minX, minY, maxX, maxY } = boundsOf(outline);
    return Math.min(maxX - minX, maxY - minY);
  });
  return widths.reduce((least, width) => Math.min(least, width), Infinity);
}

/** Whether this is how the patch's own light goes out. */
const isDesignedWay = ({ patches }: Design, { pattern }: Zone, order: number, target: Target): boolean =>
  pattern?.order === order &&
  patches.find((patch) => patch === pattern)?.reference.id === target.reference.id;

/** The wanted return, whose fringes the camera resolves, may itself stand off the beam's own by the acceptance. */
const APART = 2;

/**
 * The designed way back meets the patch as it left it, so that order k of the same patch differs from it by |k − m|λ|∇Φ|:
 * where that is clear of the acceptance all over the patch for the nearest bright order, none is seen, and no ray need be traced.
 */
function keepsOrdersApart(design: Design, { pattern: patch, outline }: Zone, { bright }: Orders): boolean {
  if (patch === undefined) return false;
  const steps = Math.min(...bright.filter((k) => k !== patch.order).map((k) => Math.abs(k - patch.order)));
  const needed = (APART * acceptanceOf(design)) / (steps * design.light.wavelength);
  const bounds = boundsOf(outline);
  const [x, y] = [(bounds.minX + bounds.maxX) / 2, (bounds.minY + bounds.maxY) / 2];
  const reach = largestDistanceFrom(outline, [x, y]);
  const surely = Math.hypot(...patch.phase.gradient(x, y)) - patch.phase.curvatureBound(bounds) * reach;
  return surely > needed || 1 / periodRange(patch).max > needed;
}

/** The references as light meets them; a cube that no patch looks at is taken to face the substrate. */
function targetsOf(design: Design): Target[] {
  const seen = new Set(design.patches.map((patch) => patch.reference.id));
  return design.references.flatMap((reference) => targetOf(design, reference, seen.has(reference.id)));
}

function targetOf(design: Design, reference: Reference, seen: boolean): Target[] {
  const { at, diameter } = reference;
  const cube = () => (seen ? cubeOf(design, reference) : idealCube(at, [0, 0, 0]));
  const traced = kindOf(reference).returned(reference, { cube, surface: undefined });
  if (traced === undefined || traced.kind === 'surface') return [];
  if (traced.kind !== 'cube') return [{ reference, traced, radius: traced.radius }];
  const clearRadius = diameter === undefined ? DEFAULT_APERTURE : (diameter / 2) * CLEAR_APERTURE_OF_BALL;
  // What the edges lose decides nothing here.
  return [{ reference, traced: { ...traced, clearRadius, edgeBand: 0, apexZone: 0 }, radius: clearRadius }];
}

/** Clear radius of a cube whose sphere the scenario does not give, mm: that of a 1.5 in one. */
const DEFAULT_APERTURE = (38.1 / 2) * CLEAR_APERTURE_OF_BALL;

/**
 * Brightness times share that 1 mm² of a zone comes to, but for the efficiency of its order out, if all of it comes home in the
 * brightest order on the faintest patch.
 */
function powerOfArea({ patches }: Design, { bright, efficiency }: Orders): number {
  const back = Math.max(...bright.map(efficiency));
  const wanted = patches.reduce(
    (least, patch) => Math.min(least, efficiency(patch.order) ** 2 * areaOf(patch.outline)),
    Infinity,
  );
  return back / wanted;
}

/**
 * Where a zone's orders go as a whole: enough to tell, without tracing, that an order passes clear of a reference. Lateral direction
 * cosines; the zone's are those of its middle, with a bound on how far those of its corners are from them.
 */
interface Aim {
  readonly incident: Vec2;
  readonly pattern: Vec2;
  /** Most that the corners' cosines differ from the middle's: of the beam, and for each order of the pattern. */
  readonly incidentSpread: number;
  readonly patternSpread: number;
  /** By target: the cosines that would hit its middle, and how far from them no ray of the zone can be that meets it. */
  readonly toward: Float64Array;
}

function aimOf(design: Design, zone: Zone, targets: readonly Target[]): Aim {
  const middle = nodeOf(design, zone, CENTRE, CENTRE);
  let [incidentSpread, patternSpread, reach] = [0, 0, 0];
  for (const [right, up] of AROUND) {
    const corner = nodeOf(design, zone, right * LATTICE, up * LATTICE);
    incidentSpread = Math.max(incidentSpread, apart(corner.incident, middle.incident));
    patternSpread = Math.max(patternSpread, apart(corner.pattern, middle.pattern));
    reach = Math.max(reach, apart(corner.at, middle.at));
  }
  const toward = new Float64Array(3 * targets.length);
  targets.forEach((target, t) => {
    const { at } = target.reference;
    const [dx, dy, dz] = [at[0] - middle.at[0], at[1] - middle.at[1], at[2]];
    const way = Math.sqrt(dx * dx + dy * dy + dz * dz);
    // Seen from another point of the zone the target lies elsewhere by no more than reach over the nearest distance.
    const parallax = reach / Math.max(way - reach, Number.MIN_VALUE);
    toward.set([dx / way, dy / way, targetAngle(design, target) + SPREAD * parallax], 3 * t);
  });
  return { incident: middle.incident, pattern: middle.pattern, incidentSpread, patternSpread, toward };
}

/** Whether no ray of the order, all over the zone, can meet the target of this index. */
function passesClear(aim: Aim, order: number, target: number): boolean {
  const dx = aim.incident[0] + order * aim.pattern[0] - aim.toward[3 * target]!;
  const dy = aim.incident[1] + order * aim.pattern[1] - aim.toward[3 * target + 1]!;
  const spread = aim.incidentSpread + Math.abs(order) * aim.patternSpread;
  return Math.sqrt(dx * dx + dy * dy) - SPREAD * spread > aim.toward[3 * target + 2]!;
}

const apart = (a: Vec2, b: Vec2): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2);
