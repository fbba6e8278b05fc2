/** How far the part's envelope reaches into the substrate, judged for a round or a rectangular blank, which is convex. mm. */
import type { Design } from '../../design/design.ts';
import { boundaryOf } from '../../geometry/boundary.ts';
import { type ConvexBody, frustumBody, hullBody } from '../../geometry/convex-bodies.ts';
import type { Outline } from '../../geometry/outline.ts';
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
  if (outline.shape !== 'rectangle') return undefined;
  const corners = boundaryOf(outline)[0]!.map((piece) => pointAlong(piece, 0));
  return hullBody(corners.flatMap(([x, y]): Vec3[] => [low, low + height].map((z): Vec3 => [x, y, z])));
}
