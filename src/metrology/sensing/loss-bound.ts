/**
 * A bound in closed form on the share of a patch's light that does not come back, where its parts add up simply: a point focus on a
 * ball, a line focus on a cube. What returned-light.ts counts by rays is less, to the first order of the angles across the patch.
 *   ball   the bias turns the light by ε = λ|m∇B|, which comes back 2s(s − R)ε/R beside where it left
 *   cube   an edge at the angle φ to the line loses a band of the line, edgeBand/sin φ; all bands and the apex lie over its middle,
 *          so that the widest counts; the bias shifts what is left by 2sε
 * A shift loses a strip along one edge; the two slopes of a roof lose one along either edge and leave the ridge's middle doubled or
 * bare, which is no loss of light. An outline that is not its own mirror image along the line loses more at a cube: no bound is given.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { runAlong } from '../../design/design-patch.ts';
import { areaOf, boundsOf } from '../../geometry/extent.ts';
import { dot, type Vec3 } from '../../geometry/vector.ts';
import type { CornerCube } from '../../optics/corner-cube.ts';
import { angleToNearestEdge } from './retroreflector.ts';
import { realReference } from './returned-light.ts';
import { widthAlong } from './sensitivity.ts';

/** Undefined where no simple bound is known: such light has to be traced. 0 for what no light is lost of. */
export function lossBound(design: Design, patch: DesignedPatch): number | undefined {
  const meets = realReference(design, patch);
  if (meets === undefined) return 0;
  if (meets.kind === 'surface') return patch.bias === undefined ? 0 : undefined;
  const area = areaOf(patch.outline) * Math.abs(patch.chiefRay[2]);
  const turned = biasAngle(design, patch);
  if (meets.kind === 'cube')
    return patch.lineDirection && cubeBound(patch, patch.lineDirection, meets, area, turned);
  if (patch.lineDirection !== undefined) return undefined;
  const { radius } = meets;
  const shift = (2 * patch.distance * (patch.distance - radius) * turned) / radius;
  return passesBall(patch, radius, turned) ? (shift * spanOf(patch)) / area : undefined;
}

function cubeBound(
  patch: DesignedPatch,
  line: Vec3,
  cube: CornerCube,
  area: number,
  turned: number,
): number | undefined {
  if (!isMirrored(patch)) return undefined;
  const across = widthAlong(patch, patch.senses[0] as NonNullable<(typeof patch.senses)[0]>);
  const shift = 2 * patch.distance * turned;
  // Glass after the pattern puts the fold beside the centre, and what leaves near one end comes back past the other.
  const beside = 2 * offCentre(patch, line);
  // The light meets the mouth, √2 r above the apex, beside the axis by its own place on the line and by its tilt.
  const { min, max } = runAlong(patch, [line[0], line[1]]);
  const reach = Math.max(-min, max) + shift + beside;
  const spread = spanOf(patch) / patch.distance;
  const tilt = Math.acos(Math.min(1, Math.max(-1, -dot(cube.axis, patch.chiefRay)))) + spread;
  if (!(tilt < MOST_TILT) || reach + Math.SQRT2 * cube.clearRadius * Math.tan(tilt) > cube.clearRadius)
    return undefined;
  const band = Math.max(cube.edgeBand / Math.sin(angleToNearestEdge(cube, patch)), 2 * cube.apexZone);
  return ((band + 2 * shift + beside) * across) / area;
}

/** How far along the line the fold lies from the patch's centre, mm. */
const offCentre = ({ fold, centre }: DesignedPatch, [lx, ly]: Vec3): number =>
  Math.abs((fold[0] - centre[0]) * lx + (fold[1] - centre[1]) * ly);

/** Whether the outline is the same on both sides of its middle along the line, where a cube sends the light of the other side. */
function isMirrored({ outline, centre, asked }: DesignedPatch): boolean {
  if (outline.shape !== 'circle' && !('rotation' in outline)) return false;
  if (outline.centre[0] !== centre[0] || outline.centre[1] !== centre[1]) return false;
  if (outline.shape === 'circle') return true;
  const quarters = ((asked.lineAngle ?? 0) - outline.rotation) / (Math.PI / 2);
  return Math.abs(quarters - Math.round(quarters)) < ALIGNED;
}

/** Of a right angle: degrees and radians of the same direction. */
const ALIGNED = 1e-9;
/** Past this the edges of the cube come to look over one another. */
const MOST_TILT = Math.PI / 6;

const passesBall = (patch: DesignedPatch, radius: number, turned: number): boolean =>
  patch.distance * turned < radius / 4;

/** λ|m∇B|, the angle by which the bias turns the light at each crossing. */
function biasAngle(design: Design, { bias, order }: DesignedPatch): number {
  if (bias === undefined) return 0;
  const slope = (Math.abs(bias.amplitude) * Math.hypot(...bias.direction)) / bias.reach;
  return design.light.wavelength * Math.abs(order) * slope;
}

/** No width of the patch is larger. */
function spanOf({ outline }: DesignedPatch): number {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  return Math.hypot(maxX - minX, maxY - minY);
}
