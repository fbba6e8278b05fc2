/**
 * Rule seat-clash: a seat stands wholly on the glass, `substrate.clearance` away from patterns on its own face, off the keep-outs,
 * clear of other seats, and out of the light: of what goes to the references where it stands toward the part, of what comes from
 * the interferometer where it stands toward that. Gaps of footprints and distances of spheres from the light are exact.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { gapBetween, insideMargin, signedGap } from '../geometry/clearance.ts';
import { boundsOf } from '../geometry/extent.ts';
import type { Outline } from '../geometry/outline.ts';
import { distance } from '../geometry/vector.ts';
import { incomingSights } from '../metrology/sight/incoming-light.ts';
import { blockedShare, type Sights, sightsOf } from '../metrology/sight/line-of-sight.ts';
import { footprintOf, seatCentre, seatSolids } from '../metrology/sight/seats.ts';
import { gradientAt } from '../optics/eikonal.ts';
import { trimmed } from '../quantity/format.ts';
import type { Seat } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const seatClash = rule(
  {
    code: 'seat-clash',
    severity: 'error',
    scope: 'patch',
    meaning:
      'A seat collides with a patch, a keep-out, another seat or the substrate’s edge, or blocks light.',
    limit: 'substrate.clearance',
    remedy: 'Move the seat, or put it on the other face.',
    planning: { by: 'moving', rank: 3, ring: true, helps: 'seats placed elsewhere' },
  },
  (design) =>
    design.scenario.seats.flatMap((seat, i) =>
      [
        ...onEdge(design, seat),
        ...atKeepOuts(design, seat),
        ...atPatches(design, seat),
        ...atSeats(design, seat, i),
      ].map((clash): Found => {
        return { path: ['seats', i, 'id'], ...clash };
      }),
    ),
);

type Clash = Pick<Found, 'where' | 'message' | 'hint' | 'patches'> & {
  readonly value: number;
  readonly limit: number;
  readonly unit: 'mm' | '%';
};

function onEdge({ scenario }: Design, seat: Seat): Clash[] {
  const margin = insideMargin(scenario.substrate.outline, footprintOf(seat));
  if (margin >= -LENGTH_TOLERANCE) return [];
  return [
    {
      where: seat.id,
      message: `seat ${seat.id} extends ${mm(-margin)} past the substrate's edge`,
      hint: 'move it inward',
      value: margin,
      limit: 0,
      unit: 'mm',
    },
  ];
}

/** On either face: what is kept free for the main pattern is kept free of shadows too. */
function atKeepOuts({ scenario }: Design, seat: Seat): Clash[] {
  const { clearance, patternFaces } = scenario.substrate;
  const limit = seat.face === patternFaces ? clearance : 0;
  return scenario.keepOuts.flatMap(({ id, outline }) =>
    gapClash(seat, `keep-out ${id}`, id, signedGap(footprintOf(seat), outline), limit),
  );
}

function atPatches(design: Design, seat: Seat): Clash[] {
  const { clearance, patternFaces } = design.scenario.substrate;
  const solids = seatSolids(design, seat);
  const outward = seat.face === 'part';
  const sights: Sights = outward ? sightsOf : incomingSights(seat.height + seat.diameter);
  return design.patches.flatMap((patch): Clash[] => {
    if (seat.face === patternFaces) {
      const gap = signedGap(footprintOf(seat), patch.outline);
      const found = gapClash(seat, `patch ${patch.id}`, patch.id, gap, clearance);
      if (found.length > 0) return found.map((clash) => ({ ...clash, patches: [patch.id] }));
    }
    if (standsClear(design, seat, patch, outward)) return [];
    const share = Math.max(...solids.map((solid) => blockedShare(design, patch, solid, sights)));
    return share > 0 ? [shadow(seat, patch, share, outward)] : [];
  });
}

/**
 * Whether the seat stands so far beside the patch that no light of it leans so far over: by a bound of the lateral cosines over
 * the patch, without following a ray.
 */
function standsClear(design: Design, seat: Seat, patch: DesignedPatch, outward: boolean): boolean {
  const bounds = boundsOf(patch.outline);
  const { minX, maxX, minY, maxY } = bounds;
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  let [gx, gy] = gradientAt(design.beam.eikonal, x, y);
  let bend = design.beam.eikonal.curvatureBound(bounds);
  if (outward) {
    const path = patch.order * design.light.wavelength;
    const [px, py] = patch.phase.gradient(x, y);
    gx += path * px;
    gy += path * py;
    bend += Math.abs(path) * patch.phase.curvatureBound(bounds);
  }
  const cosine =
    Math.hypot(gx, gy) + (bend * Math.hypot(maxX - minX, maxY - minY)) / 2 + biasCosine(design, patch);
  if (!(cosine < 1)) return false;
  const { side, thickness, index } = design.glass;
  const inGlass = (side === 'after') === outward ? thickness / Math.sqrt(index * index - cosine * cosine) : 0;
  const inAir = (seat.height + seat.diameter / 2) / Math.sqrt(1 - cosine * cosine);
  const radius = Math.max(seat.footprint, seat.diameter) / 2;
  const over: Outline = { shape: 'circle', centre: seat.at, radius };
  return gapBetween(over, patch.outline).gap > cosine * (inGlass + inAir);
}

/** λ|m∇B|, by which a roof's far side leans the other way. */
function biasCosine({ light }: Design, { bias, order }: DesignedPatch): number {
  if (bias === undefined) return 0;
  return (
    (2 * light.wavelength * Math.abs(order * bias.amplitude) * Math.hypot(...bias.direction)) / bias.reach
  );
}

function shadow(seat: Seat, patch: DesignedPatch, share: number, outward: boolean): Clash {
  const percent = 100 * share;
  const amount = percent < 1 ? 'less than 1' : `about ${trimmed(percent, 0)}`;
  const way = outward ? `from patch ${patch.id} to ${patch.reference.id}` : `that comes to patch ${patch.id}`;
  return {
    where: `${seat.id}, ${patch.id}`,
    patches: [patch.id],
    message: `seat ${seat.id} blocks ${amount} % of the light ${way}`,
    hint: 'move the seat, lower it, or put it on the other face',
    value: percent,
    limit: 0,
    unit: '%',
  };
}

/** Each pair once, at the later of the two. */
function atSeats(design: Design, seat: Seat, index: number): Clash[] {
  return design.scenario.seats.slice(0, index).flatMap((other): Clash[] => {
    if (other.face !== seat.face) return [];
    const found = gapClash(
      seat,
      `seat ${other.id}`,
      other.id,
      signedGap(footprintOf(seat), footprintOf(other)),
      0,
    );
    if (found.length > 0) return found;
    const apart = distance(seatCentre(design, seat), seatCentre(design, other));
    const gap = apart - (seat.diameter + other.diameter) / 2;
    return gapClash(seat, `the sphere of seat ${other.id}`, other.id, gap, 0);
  });
}

function gapClash(seat: Seat, what: string, id: string, gap: number, limit: number): Clash[] {
  if (gap >= limit - LENGTH_TOLERANCE) return [];
  const found = gap < 0 ? `extends ${mm(-gap)} into ${what}` : `is ${mm(gap)} from ${what}`;
  return [
    {
      where: `${seat.id}, ${id}`,
      message: `seat ${seat.id} ${found}; the minimum gap is ${mm(limit)}`,
      hint: 'move the seat',
      value: gap,
      limit,
      unit: 'mm',
    },
  ];
}
