/**
 * A patch whose light meets a datum feature of the part at normal incidence, all round: the feature as a surface in the substrate
 * frame, and whether the light does. mm; a datum's places are in the part frame.
 */
import { nearestOnEdge } from '../geometry/contains.ts';
import { boundsOf } from '../geometry/extent.ts';
import { composed, directionToParent, placeToParent } from '../geometry/frame.ts';
import type { Outline } from '../geometry/outline.ts';
import { boundaryPoints } from '../geometry/sampling.ts';
import { add, dot, scale, type Vec2, type Vec3 } from '../geometry/vector.ts';
import { type DatumSurface, runToSurface, signedDistance } from '../optics/datum-surface.ts';
import { type Eikonal, gradientAt } from '../optics/eikonal.ts';
import { along, type Ray, rayPastGlass, slabCrossing } from '../optics/ray.ts';
import type { Datum } from '../scenario/datum.ts';
import { sagFrame, sagOf } from '../scenario/datum-sag.ts';
import type { NullTest, Part } from '../scenario/scenario.ts';
import type { DesignedGlass, DesignedPatch } from './design.ts';

/** Throws a RangeError for a datum of a kind that the reader does not let through here. */
export function surfaceOf(datum: Datum, { frame }: Part, test?: NullTest): DatumSurface {
  const place = (at: Vec3): Vec3 => placeToParent(frame, at);
  const along = (direction: Vec3): Vec3 => directionToParent(frame, direction);
  switch (datum.kind) {
    case 'plane':
      return { shape: 'plane', point: place(datum.point), normal: along(datum.normal) };
    case 'sphere':
      return {
        shape: 'sphere',
        point: place(datum.centre),
        radius: datum.diameter / 2,
        side: datum.side,
      };
    case 'cone':
      return {
        shape: 'cone',
        point: place(datum.apex),
        axis: along(datum.axis),
        halfAngle: datum.angle / 2,
        side: datum.side,
      };
    case 'torus':
      return {
        shape: 'torus',
        point: place(datum.centre),
        axis: along(datum.axis),
        radius: datum.diameter / 2,
        tube: datum.tube / 2,
        side: datum.side,
      };
    case 'asphere': {
      const { origin, rotation } = composed(frame, sagFrame(datum));
      return {
        shape: 'sag',
        ...{ point: origin, rotation, sag: sagOf(datum) },
        faces: datum.faces === '+' ? 1 : -1,
        near: [...(test?.surface === datum.id ? [centreOf(test.aperture)] : []), [0, 0]],
      };
    }
    default:
      throw new RangeError(`light of a patch cannot meet the ${datum.kind} ${datum.id} at normal incidence`);
  }
}

const centreOf = (aperture: Outline): Vec2 => {
  const { minX, maxX, minY, maxY } = boundsOf(aperture);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
};

/** The ray in air that leaves the glass, or the pattern, from a point of it; undefined where it is evanescent. */
export const leavingRay = (wave: Eikonal, glass: DesignedGlass, x: number, y: number): Ray | undefined =>
  rayPastGlass(glass, [x, y], gradientAt(wave, x, y));

/**
 * Where the axis of a cone or a torus shows on the pattern: light that would come from the axis past the glass starts there. Φ has a kink
 * there, or no value. Undefined for a surface without an axis, and where the axis runs beside the pattern.
 */
export function axisOnPattern(
  surface: DatumSurface,
  { thickness, index, side }: DesignedGlass,
): Vec2 | undefined {
  if (!('axis' in surface) || surface.axis[2] === 0) return undefined;
  const { point, axis } = surface;
  const height = side === 'after' ? thickness : 0;
  const exit = add(point, scale(axis, (height - point[2]) / axis[2]));
  // Of the rays all round the axis, what is left of their directions on average: the part along the axis.
  const along = dot(signedDistance(surface, exit).normal, axis);
  const p = scale(axis, Math.abs(along) * Math.sign(axis[2]));
  const { runPerCosine } = slabCrossing(p[0] * p[0] + p[1] * p[1], height, index);
  return [exit[0] - p[0] * runPerCosine, exit[1] - p[1] * runPerCosine];
}

/** Points of the edge at which the light is followed to the surface, besides the one next to the axis. */
const FOLLOWED = 16;
/** A cosine this near to 1: a microradian, far more than rounding and far less than a wave that goes wrong. */
const NORMAL = 1e-12;

/** Whether the light from all round the patch meets its feature at normal incidence. */
export function meetsFeature(patch: DesignedPatch, glass: DesignedGlass): boolean {
  const { normalIncidence } = patch;
  if (normalIncidence === undefined) return false;
  const { xs, ys } = boundaryPoints(patch.outline, FOLLOWED);
  const places = Array.from(xs, (x, i): Vec2 => [x, ys[i]!]);
  const axis = axisOnPattern(normalIncidence.surface, glass);
  if (axis !== undefined) places.push(nearestOnEdge(patch.outline, axis));
  return places.every(([x, y]) => {
    const ray = leavingRay(normalIncidence.wave, glass, x, y);
    const run = ray && runToSurface(normalIncidence.surface, ray);
    if (ray === undefined || run === undefined) return false;
    const { normal } = signedDistance(normalIncidence.surface, along(ray, run));
    return Math.abs(dot(normal, ray.direction)) > 1 - NORMAL;
  });
}
