/**
 * A patch whose light meets a datum feature of the part at normal incidence, all round: the feature as a surface in the substrate
 * frame, and whether the light does. mm; a datum's places are in the part frame.
 */
import { directionToParent, placeToParent } from '../geometry/frame.ts';
import { boundaryPoints } from '../geometry/sampling.ts';
import { dot, type Vec3 } from '../geometry/vector.ts';
import { type DatumSurface, runToSurface, signedDistance } from '../optics/datum-surface.ts';
import { type Eikonal, gradientAt } from '../optics/eikonal.ts';
import { along, type Ray, rayPastGlass } from '../optics/ray.ts';
import type { Datum } from '../scenario/datum.ts';
import type { Part } from '../scenario/scenario.ts';
import type { DesignedGlass, DesignedPatch } from './design.ts';

/** Throws a RangeError for a datum of a kind that the reader does not let through here. */
export function surfaceOf(datum: Datum, { frame }: Part): DatumSurface {
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
    default:
      throw new RangeError(`light of a patch cannot meet the ${datum.kind} ${datum.id} at normal incidence`);
  }
}

/** The ray in air that leaves the glass, or the pattern, from a point of it; undefined where it is evanescent. */
export const leavingRay = (wave: Eikonal, glass: DesignedGlass, x: number, y: number): Ray | undefined =>
  rayPastGlass(glass, [x, y], gradientAt(wave, x, y));

/** Points of the edge at which the light is followed to the surface. */
const FOLLOWED = 16;
/** A cosine this near to 1: a microradian, far more than rounding and far less than a wave that goes wrong. */
const NORMAL = 1e-12;

/** Whether the light from all round the patch meets its feature at normal incidence. */
export function meetsFeature(patch: DesignedPatch, glass: DesignedGlass): boolean {
  const { normalIncidence } = patch;
  if (normalIncidence === undefined) return false;
  const { xs, ys } = boundaryPoints(patch.outline, FOLLOWED);
  return xs.every((x, i) => {
    const ray = leavingRay(normalIncidence.wave, glass, x, ys[i]!);
    const run = ray && runToSurface(normalIncidence.surface, ray);
    if (ray === undefined || run === undefined) return false;
    const { normal } = signedDistance(normalIncidence.surface, along(ray, run));
    return Math.abs(dot(normal, ray.direction)) > 1 - NORMAL;
  });
}
