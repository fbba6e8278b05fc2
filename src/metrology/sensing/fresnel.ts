/**
 * The Fresnel number of a patch's round trip, mm: from pattern to pattern, which no focus changes, so that a line focus on a ball
 * has the ball's as a point focus has. A cube inverts whatever meets it; along a line focus it is the patch's length that counts,
 * otherwise the narrowest width. Widths are those seen along the chief ray.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { leavingRay } from '../../design/square-on.ts';
import { areaOf, narrowestWidth } from '../../geometry/extent.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { runToSurface } from '../../optics/datum-surface.ts';
import { ballFresnelNumber, cubeFresnelNumber } from '../../optics/fresnel-number.ts';
import { patchCoordinates } from './diffracted-patch.ts';
import { widthAlong } from './sensitivity.ts';

/** Undefined for what sends nothing back to be read by a focus. */
export function fresnelNumberOf(design: Design, patch: DesignedPatch): number | undefined {
  const { wavelength } = design.light;
  const { kind, diameter } = patch.reference;
  if (kind === 'ball')
    return ballFresnelNumber(narrowestSeen(patch) / 2, wavelength, patch.distance, (diameter as number) / 2);
  if (patch.square !== undefined) return squareFresnelNumber(design, patch);
  if (kind !== 'smr') return undefined;
  const width = patch.lineDirection === undefined ? narrowestSeen(patch) : lengthAlongLine(patch);
  return cubeFresnelNumber(width / 2, wavelength, patch.distance);
}

/**
 * A surface met square on is a mirror concentric with the wave: that of a ball, B = 2L(L + R)/R over the distance L, its radius of
 * curvature R counted positive where it is convex and Infinity along a cone or a plane.
 */
function squareFresnelNumber(design: Design, patch: DesignedPatch): number {
  const { surface, wave } = patch.square as NonNullable<typeof patch.square>;
  const { xs, ys } = boundaryPoints(patch.outline, EDGE_POINTS);
  const runs = Array.from(xs, (x, i) => {
    const ray = leavingRay(wave, design.glass, x, ys[i]!);
    return (ray && runToSurface(surface, ray)) ?? Number.NaN;
  });
  const length = Math.max(...runs);
  const bend =
    surface.shape === 'sphere' ? surface.radius : surface.shape === 'torus' ? surface.tube : Infinity;
  const radius = 'side' in surface && surface.side === 'inside' ? -bend : bend;
  const element = 2 * length * (1 + length / radius);
  return (narrowestSeen(patch) / 2) ** 2 / (design.light.wavelength * Math.abs(element));
}

/** The longest way decides. */
const EDGE_POINTS = 16;

/**
 * The narrowest width of the patch seen along its chief ray, whatever its turn: exact for circles, rectangles and polygons; of a
 * ring or a sector, which the light may see inclined along its wall or across it, the lesser.
 */
export function narrowestSeen(patch: DesignedPatch): number {
  const { outline } = patch;
  const foreshortened = patch.square === undefined ? Math.abs(patch.chiefRay[2]) : 1;
  const corners = patch.senses.length === 0 ? undefined : cornersOf(patch);
  if (corners === undefined) return narrowestWidth(outline) * foreshortened;
  const { fromPattern } = patchCoordinates(patch);
  return narrowestWidth({ shape: 'polygon', points: corners.map(([x, y]) => fromPattern(x, y)) });
}

/** The patch's length along its line: of a round patch its diameter, of any other the mean over its width across the line. */
function lengthAlongLine(patch: DesignedPatch): number {
  const line = patch.lineDirection as NonNullable<typeof patch.lineDirection>;
  const whole = widthAlong(patch, line);
  if (patch.outline.shape === 'circle') return whole;
  const across = widthAlong(patch, patch.senses[0] as NonNullable<(typeof patch.senses)[0]>);
  return Math.min(whole, (areaOf(patch.outline) * Math.abs(patch.chiefRay[2])) / across);
}

function cornersOf({ outline }: DesignedPatch): readonly Vec2[] | undefined {
  if (outline.shape === 'polygon') return outline.points;
  if (outline.shape !== 'rectangle') return undefined;
  const [c, s] = [Math.cos(outline.rotation), Math.sin(outline.rotation)];
  const [w, h] = [outline.width / 2, outline.height / 2];
  return [
    [w, h],
    [-w, h],
    [-w, -h],
    [w, -h],
  ].map(([u, v]): Vec2 => [outline.centre[0] + u! * c - v! * s, outline.centre[1] + u! * s + v! * c]);
}
