/**
 * Seats bonded to the glass: where their spheres stand, and what they are as solids. Substrate frame, mm.
 *
 * The pattern is z = 0; the glass lies behind it (z < 0) where the pattern faces the part, before it where it faces the
 * interferometer.
 */
import type { Design } from '../../design/design.ts';
import { frustumBody, sphereBody } from '../../geometry/convex-bodies.ts';
import type { Outline } from '../../geometry/outline.ts';
import { fromFrustum, fromSphere } from '../../geometry/solid-distance.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Seat } from '../../scenario/scenario.ts';
import { convexObstacle, type Obstacle } from './line-of-sight.ts';

/** z of a face of the substrate. */
export function faceHeight({ scenario }: Design, face: Seat['face']): number {
  const { thickness, patternFaces } = scenario.substrate;
  if (face === patternFaces) return 0;
  return face === 'part' ? thickness : -thickness;
}

/** The centre of the ball, or of the SMR in the nest. */
export function seatCentre(design: Design, seat: Seat): Vec3 {
  const away = seat.face === 'part' ? 1 : -1;
  return [seat.at[0], seat.at[1], faceHeight(design, seat.face) + away * seat.height];
}

export const footprintOf = (seat: Seat): Outline => ({
  shape: 'circle',
  centre: seat.at,
  radius: seat.footprint / 2,
});

/** The sphere, and the foot: of a nest solid up to the sphere's centre, of a ball the disc of cement on the glass. */
export function seatSolids(design: Design, seat: Seat): readonly Obstacle[] {
  const { centre, base, away, radius, height } = formOf(design, seat);
  const name = `seat ${seat.id}`;
  return [
    convexObstacle(name, sphereBody(centre, seat.diameter / 2)),
    convexObstacle(name, frustumBody(base, away, radius, radius, height)),
  ];
}

/** How far outside of the seat a point lies, mm; negative inside. */
export function distanceToSeat(design: Design, seat: Seat, point: Vec3): number {
  const { centre, base, away, radius, height } = formOf(design, seat);
  const ofFoot = fromFrustum(base, away, radius, radius, height)(point);
  return Math.min(fromSphere(centre, seat.diameter / 2)(point), ofFoot);
}

function formOf(design: Design, seat: Seat) {
  const base: Vec3 = [seat.at[0], seat.at[1], faceHeight(design, seat.face)];
  const away: Vec3 = [0, 0, seat.face === 'part' ? 1 : -1];
  const height = seat.kind === 'nest' ? seat.height : 0;
  return { centre: seatCentre(design, seat), base, away, radius: seat.footprint / 2, height };
}
