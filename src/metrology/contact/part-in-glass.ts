/** How far the part's envelope reaches into the substrate, judged for a round, an elliptic or a rectangular blank, which is convex. mm. */
import type { Design } from '../../design/design.ts';
import { boundaryOf } from '../../geometry/boundary.ts';
import { type ConvexBody, frustumBody, hullBody } from '../../geometry/convex-bodies.ts';
import type { EllipseOutline, Outline } from '../../geometry/outline.ts';
import { pointAlong } from '../../geometry/piece.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { envelopeOf } from '../sight/obstacles.ts';
import { faceHeight } from '../sight/seats.ts';
import { toleranceOf } from './contacts.ts';

interface Reach {
  readonly what: string;
  /** From the face toward the part; the thickness where it goes all the way through. */
  readonly overlap: number;
}

/** Halvings of the thickness: to a nanometre. */
const HALVINGS = 24;

export function partInGlass(design: Design): readonly Reach[] {
  const { outline, thickness } = design.scenario.substrate;
  const bottom = faceHeight(design, 'interferometer');
  return envelopeOf(design.scenario.part).flatMap((solid) => {
    /** Whether the solid meets what is left of the substrate when so much of it is taken off on the part's side. */
    const reaches = (depth: number): boolean => {
      const rest = plateOf(outline, bottom, thickness - depth);
      return rest !== undefined && solid.obstacle.distanceFrom(rest) === 0;
    };
    if (thickness <= toleranceOf(solid) || !reaches(toleranceOf(solid))) return [];
    let [within, beyond] = [toleranceOf(solid), thickness];
    for (let k = 0; k < HALVINGS; k++) {
      const middle = (within + beyond) / 2;
      if (reaches(middle)) within = middle;
      else beyond = middle;
    }
    return [{ what: solid.obstacle.name, overlap: beyond }];
  });
}

/** Undefined for an outline that is not convex, or may not be. */
function plateOf(outline: Outline, low: number, height: number): ConvexBody | undefined {
  if (outline.shape === 'circle') {
    const [x, y] = outline.centre;
    return frustumBody([x, y, low], [0, 0, 1], outline.radius, outline.radius, height);
  }
  if (outline.shape === 'ellipse') return ellipticPlate(outline, low, height);
  if (outline.shape !== 'rectangle') return undefined;
  const corners = boundaryOf(outline)[0]!.map((piece) => pointAlong(piece, 0));
  return hullBody(corners.flatMap(([x, y]): Vec3[] => [low, low + height].map((z): Vec3 => [x, y, z])));
}

/** The farthest point of (a cos t, b sin t) along (u, v) is where its tangent is square to that: (a²u, b²v) over √(a²u² + b²v²). */
function ellipticPlate(
  { centre, width, height, rotation }: EllipseOutline,
  low: number,
  thick: number,
): ConvexBody {
  const [a, b] = [width / 2, height / 2];
  const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
  return {
    support: ([x, y, z]) => {
      const [u, v] = [a * (x * c + y * s), b * (y * c - x * s)];
      const size = Math.hypot(u, v);
      const [p, q] = size > 0 ? [(a * u) / size, (b * v) / size] : [0, 0];
      return [centre[0] + p * c - q * s, centre[1] + p * s + q * c, z > 0 ? low + thick : low];
    },
    margin: 0,
    within: [centre[0], centre[1], low + thick / 2],
  };
}
