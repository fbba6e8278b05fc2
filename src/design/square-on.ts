/**
 * A patch whose light meets a datum feature of the part square on, all round: the feature as a surface in the substrate frame, and
 * the wave that has it for a wavefront. mm; a datum's places are in the part frame.
 */
import { directionToParent, placeToParent } from '../geometry/frame.ts';
import { boundaryPoints } from '../geometry/sampling.ts';
import { dot, negate, type Vec3 } from '../geometry/vector.ts';
import { conicalWave, ringFocusWave } from '../optics/air-wave.ts';
import { type DatumSurface, runToSurface, signedDistance } from '../optics/datum-surface.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import { LayeredWave } from '../optics/layered-wave.ts';
import { PlaneWave } from '../optics/plane-wave.ts';
import { along, directionFromLateral, type Ray, slabCrossing } from '../optics/ray.ts';
import { SphericalWave } from '../optics/spherical-wave.ts';
import type { Datum } from '../scenario/datum.ts';
import type { Part } from '../scenario/scenario.ts';
import type { DesignedGlass, DesignedPatch } from './design.ts';

/** Throws a RangeError for a kind of datum that the reader does not let through here. */
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
      throw new RangeError(`light of a patch cannot meet the ${datum.kind} ${datum.id} square on`);
  }
}

/**
 * E_out of the wave whose rays meet the surface square on:
 *   sphere  toward its centre, or away from it where that lies behind the substrate   plane  against its normal
 *   cone    the conical wave along its inward (outside) or outward (inside) normals   torus  toward its circle, or away from it
 */
export function squareWave(surface: DatumSurface, glass: DesignedGlass): Eikonal {
  const thickness = glass.side === 'after' ? glass.thickness : 0;
  const [x, y, z] = surface.point;
  switch (surface.shape) {
    case 'plane':
      return new PlaneWave(negate(surface.normal));
    case 'sphere':
      return new SphericalWave([x, y], z - thickness, -1, thickness, glass.index);
    case 'cone':
      return new LayeredWave(
        conicalWave(surface.point, surface.axis, surface.halfAngle, surface.side),
        thickness,
        glass.index,
      );
    case 'torus':
      return new LayeredWave(
        ringFocusWave(surface.point, surface.axis, surface.radius, z >= thickness ? 1 : -1),
        thickness,
        glass.index,
      );
  }
}

/** The ray in air that leaves the glass, or the pattern, from a point of it; undefined where it is evanescent. */
export function leavingRay(wave: Eikonal, glass: DesignedGlass, x: number, y: number): Ray | undefined {
  const [gx, gy] = [new Float64Array(1), new Float64Array(1)];
  wave.accumulateGradient(Float64Array.of(x), Float64Array.of(y), 1, gx, gy, 1);
  const [px, py] = [gx[0]!, gy[0]!];
  const direction = directionFromLateral([px, py], 1, 1);
  if (direction === undefined) return undefined;
  const thickness = glass.side === 'after' ? glass.thickness : 0;
  const { runPerCosine } = slabCrossing(px * px + py * py, thickness, glass.index);
  return { point: [x + px * runPerCosine, y + py * runPerCosine, thickness], direction };
}

/** Points of the edge at which the light is followed to the surface. */
const FOLLOWED = 16;
/** A cosine this near to 1: a microradian, far more than rounding and far less than a wave that goes wrong. */
const SQUARE = 1e-12;

/** Whether the light from all round the patch meets its surface square on. */
export function meetsSquare(patch: DesignedPatch, glass: DesignedGlass): boolean {
  const { square } = patch;
  if (square === undefined) return false;
  const { xs, ys } = boundaryPoints(patch.outline, FOLLOWED);
  return xs.every((x, i) => {
    const ray = leavingRay(square.wave, glass, x, ys[i]!);
    const run = ray && runToSurface(square.surface, ray);
    if (ray === undefined || run === undefined) return false;
    const { normal } = signedDistance(square.surface, along(ray, run));
    return Math.abs(dot(normal, ray.direction)) > 1 - SQUARE;
  });
}
