/**
 * Where balls and SMRs touch, and what they cut. Substrate frame, mm.
 *
 * A ball touches a datum at its centre less its radius along the datum's normal. That point must lie on the part: on a solid of the
 * envelope where there is one, within the datum's own extent where that is stated. No sphere may cut a solid: the overlap is its radius
 * less the distance of its centre from the solid's surface.
 *
 * The envelope is made of convex solids: a bore, a cone, a groove or a concave surface stands in it filled up, and a crowned surface
 * is covered. So a solid is not cut by a ball that touches such a datum where the solid goes on behind the contact; a mesh shows its
 * hollows itself.
 */
import type { Design } from '../../design/design.ts';
import { type Frame, placeFromParent } from '../../geometry/frame.ts';
import { fromPlate } from '../../geometry/solid-distance.ts';
import { distance, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { Datum, Touch } from '../../scenario/datum.ts';
import { pastExtent } from '../../scenario/datum-extent.ts';
import type { Reference, Seat } from '../../scenario/scenario.ts';
import { touchNormals } from '../../scenario/touch.ts';
import { NO_RADIUS } from '../../scenario/touch-condition.ts';
import { envelopeOf, mountsOf, type StandingSolid } from '../sight/obstacles.ts';
import { distanceToSeat, faceHeight, seatCentre } from '../sight/seats.ts';
import { testedSkin } from '../sight/tested-skin.ts';

/** An envelope follows the part as drawings do, to a hundredth of a millimetre (common practice, no source). */
const DRAWN = 0.01;
/** A mesh as programs export it, chords for curves (common practice, no source). */
const FACETED = 0.1;
/** What rounding makes of spheres that touch one another or the glass. */
const ROUNDING = 1e-9;

export const toleranceOf = (solid: StandingSolid): number => (solid.kind === 'mesh' ? FACETED : DRAWN);

/** A sphere by its touches, with the datums as they are read for it. */
export interface Standing {
  readonly id: string;
  readonly at: Vec3;
  readonly radius: number;
  readonly touches: readonly Touch[];
  readonly datums: readonly Datum[];
}

/** A contact point that is not on the part. */
export interface Miss {
  readonly datum: string;
  /** From the nearest point of the part, or past the end of the datum. */
  readonly gap: number;
  readonly past: 'part' | 'extent';
}

export interface Cut {
  /** As findings name it. */
  readonly what: string;
  /** Where it is a seat or another reference. */
  readonly other: { readonly kind: 'seat' | 'reference'; readonly id: string } | undefined;
  readonly overlap: number;
}

/** References with a sphere of their own. */
export const isSolid = (reference: Reference): reference is Reference & { readonly diameter: number } =>
  reference.diameter !== undefined && !isReadBy(reference, 'mark');

export const standingOf = (
  { id, at, diameter, touches }: Reference & { readonly diameter: number },
  datums: readonly Datum[],
): Standing => ({ id, at, radius: diameter / 2, touches, datums });

/** Past the end of its datum before off the part, which says less. At most one for each touched datum, the farthest. */
export function missesOf({ scenario: { part } }: Pick<Design, 'scenario'>, ball: Standing): readonly Miss[] {
  const solids = envelopeOf(part);
  const worst = new Map<string, Miss>();
  for (const { datum, point } of contactsOf(ball, part.frame)) {
    if (fillsSphere(ball, datum)) continue;
    const beyond = pastExtent(datumOf(ball, datum), placeFromParent(part.frame, point)) ?? 0;
    const off = solids.map((solid) => solid.distanceTo(point));
    const touches = solids.length === 0 || off.some((gap, k) => gap <= toleranceOf(solids[k]!));
    if (beyond <= DRAWN && touches) continue;
    const miss: Miss =
      beyond > DRAWN
        ? { datum, gap: beyond, past: 'extent' }
        : { datum, gap: Math.min(...off), past: 'part' };
    if (miss.gap > (worst.get(datum)?.gap ?? 0)) worst.set(datum, miss);
  }
  return [...worst.values()];
}

const datumOf = ({ datums }: Standing, id: string): Datum => datums.find((datum) => datum.id === id)!;

/** A ball that just fills its seat touches wherever the seat reaches. */
function fillsSphere(ball: Standing, id: string): boolean {
  const datum = datumOf(ball, id);
  return datum.kind === 'sphere' && datum.side === 'inside' && datum.diameter / 2 - ball.radius <= NO_RADIUS;
}

/** Of the part (its envelope, or else its surface under test), of obstacles, of the glass, of seats, of other references' spheres; in that order. */
export function cutsOf(design: Design, ball: Standing): readonly Cut[] {
  const { part, seats } = design.scenario;
  const hollow = contactsOf(ball, part.frame).filter(({ datum }) => isFilledUp(ball, datum));
  const solids = envelopeOf(part).filter(
    (solid) => solid.kind === 'mesh' || hollow.every((contact) => !isBackedBy(solid, contact)),
  );
  const ofPart = cutSolids(solids, ball.at, ball.radius);
  return [
    ...(ofPart.length > 0 ? ofPart : cutSkin(design, ball.at, ball.radius)),
    ...cutSolids(mountsOf(design.scenario), ball.at, ball.radius),
    ...cut('the substrate', undefined, ball.radius - glassOf(design)(ball.at), ROUNDING),
    ...seats.flatMap((seat) => {
      const gap = distanceToSeat(design, seat, ball.at) - ball.radius;
      return cut(`seat ${seat.id}`, { kind: 'seat', id: seat.id }, -gap, ROUNDING);
    }),
    ...design.references.flatMap((other) => {
      if (other.id === ball.id || !isSolid(other)) return [];
      const gap = distance(other.at, ball.at) - other.diameter / 2 - ball.radius;
      return cut(`reference ${other.id}`, { kind: 'reference', id: other.id }, -gap, ROUNDING);
    }),
  ];
}

/** What the sphere of a seat cuts of the part and of obstacles. */
export function seatCuts(design: Design, seat: Seat): readonly Cut[] {
  const [at, radius] = [seatCentre(design, seat), seat.diameter / 2];
  const ofPart = cutSolids(envelopeOf(design.scenario.part), at, radius);
  return [
    ...(ofPart.length > 0 ? ofPart : cutSkin(design, at, radius)),
    ...cutSolids(mountsOf(design.scenario), at, radius),
  ];
}

/** Of the surface under test, within its aperture. */
function cutSkin(design: Design, at: Vec3, radius: number): readonly Cut[] {
  const skin = testedSkin(design);
  return skin === undefined ? [] : cut(skin.obstacle.name, undefined, skin.overlapWith(at, radius), DRAWN);
}

interface Contact {
  readonly datum: string;
  readonly point: Vec3;
  /** Out of the material, toward the ball. */
  readonly normal: Vec3;
}

const contactsOf = ({ touches, datums, at, radius }: Standing, part: Frame): readonly Contact[] =>
  touchNormals(touches, datums, at, part).map(({ datum, normal }) => ({
    datum,
    normal,
    point: subtract(at, scale(normal, radius)),
  }));

/** Whether the solid is there behind a contact: a ball inside of a rim has air there. */
const isBackedBy = (solid: StandingSolid, { point, normal }: Contact): boolean =>
  solid.distanceTo(subtract(point, scale(normal, 2 * toleranceOf(solid)))) < 0;

/** A datum that a convex solid cannot show: hollow, or crowned in two directions or toward a tip. */
function isFilledUp(ball: Standing, id: string): boolean {
  const datum = datumOf(ball, id);
  return !(datum.kind === 'plane' || datum.kind === 'point' || isOutsideOfCylinder(datum));
}

const isOutsideOfCylinder = (datum: Datum): boolean => datum.kind === 'cylinder' && datum.side === 'outside';

const cutSolids = (solids: readonly StandingSolid[], at: Vec3, radius: number): readonly Cut[] =>
  solids.flatMap((solid) =>
    cut(solid.obstacle.name, undefined, radius - solid.distanceTo(at), toleranceOf(solid)),
  );

const cut = (what: string, other: Cut['other'], overlap: number, tolerance: number): readonly Cut[] =>
  overlap > tolerance ? [{ what, other, overlap }] : [];

function glassOf(design: Design): (point: Vec3) => number {
  const [one, other] = [faceHeight(design, 'part'), faceHeight(design, 'interferometer')];
  return fromPlate(design.scenario.substrate.outline, Math.min(one, other), Math.max(one, other));
}
