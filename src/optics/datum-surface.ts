/**
 * A datum surface as light meets it: its signed distance (positive outside the tube, ball, cone or half-space), where a ray that
 * comes near normal incidence meets it, and how it leaves. Lengths mm, radians; axes and normals unit vectors.
 *
 * Each distance is exact and of unit gradient, so that Newton's method along a ray settles in a few steps. Which of two crossings
 * is meant, `side` says: light goes into the solid at an outside, out of the hollow at an inside.
 */
import { type Mat3, rotate, rotationFromVector } from '../geometry/frame.ts';
import { add, dot, length, scale, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import { aboutAxis } from './air-wave.ts';
import type { Returned } from './ball.ts';
import { along, type Ray, reflect } from './ray.ts';

type Side = 'outside' | 'inside';
export type DatumSurface =
  | { readonly shape: 'plane'; readonly point: Vec3; readonly normal: Vec3 }
  | { readonly shape: 'sphere'; readonly point: Vec3; readonly radius: number; readonly side: Side }
  | {
      /** Opens from the apex `point` along `axis`. */
      readonly shape: 'cone';
      readonly point: Vec3;
      readonly axis: Vec3;
      readonly halfAngle: number;
      readonly side: Side;
    }
  | {
      readonly shape: 'torus';
      readonly point: Vec3;
      readonly axis: Vec3;
      readonly radius: number;
      readonly tube: number;
      readonly side: Side;
    };

/** Distance from the surface, mm, and its gradient, the unit normal out of the solid. */
export function signedDistance(
  surface: DatumSurface,
  place: Vec3,
): { readonly value: number; readonly normal: Vec3 } {
  switch (surface.shape) {
    case 'plane':
      return { value: dot(subtract(place, surface.point), surface.normal), normal: surface.normal };
    case 'sphere': {
      const from = subtract(place, surface.point);
      return { value: Math.sqrt(dot(from, from)) - surface.radius, normal: unit(from) };
    }
    case 'cone': {
      const { rho, zeta, radial } = aboutAxis(place, surface.point, surface.axis);
      const [cos, sin] = [Math.cos(surface.halfAngle), Math.sin(surface.halfAngle)];
      return {
        value: rho * cos - zeta * sin,
        normal: subtract(scale(radial, cos), scale(surface.axis, sin)),
      };
    }
    case 'torus': {
      const { rho, zeta, radial } = aboutAxis(place, surface.point, surface.axis);
      const from = add(scale(radial, rho - surface.radius), scale(surface.axis, zeta));
      return { value: Math.sqrt(dot(from, from)) - surface.tube, normal: unit(from) };
    }
  }
}

/** The run along the ray to where it meets the surface from the right side, mm; undefined where it does not, ahead of it. */
export function runToSurface(surface: DatumSurface, ray: Ray): number | undefined {
  let run = firstGuess(surface, ray);
  for (let step = 0; step < MOST_STEPS; step++) {
    const place = along(ray, run);
    const { value, normal } = signedDistance(surface, place);
    const slope = dot(normal, ray.direction);
    if (Math.abs(value) <= MET * (1 + Math.abs(run) + length(place) + sizeAt(surface, place)))
      return isRightCrossing(surface, run, slope) ? run : undefined;
    if (slope === 0) return undefined;
    run -= value / slope;
    if (!Number.isFinite(run)) return undefined;
  }
  return undefined;
}

/** The ray reflected at the surface; undefined where it does not meet it. */
export function reflectAtSurface(surface: DatumSurface, ray: Ray): Returned | undefined {
  const path = runToSurface(surface, ray);
  if (path === undefined) return undefined;
  const point = along(ray, path);
  return { ray: { point, direction: reflect(ray.direction, signedDistance(surface, point).normal) }, path };
}

/** The surface after a rigid motion: turned by the rotation vector about `about`, then moved. */
export function movedSurface<S extends DatumSurface>(surface: S, move: Vec3, turn: Vec3, about: Vec3): S {
  const rotation: Mat3 = rotationFromVector(turn);
  const point = add(add(about, rotate(rotation, subtract(surface.point, about))), move);
  if (surface.shape === 'sphere') return { ...surface, point };
  if (surface.shape === 'plane') return { ...surface, point, normal: rotate(rotation, surface.normal) };
  return { ...surface, point, axis: rotate(rotation, surface.axis) };
}

/** A crossing is met when the distance is this small against the lengths that it is the difference of: a few of their last digits. */
const MET = 1e-15;
/** Quadratic, from a guess that is exact for a ray square to the surface. */
const MOST_STEPS = 30;

/** The lengths that the distance of a place is worked out from, mm: its own from the surface's point, and the tube's circle. */
const sizeAt = (surface: DatumSurface, place: Vec3): number =>
  length(subtract(place, surface.point)) + (surface.shape === 'torus' ? surface.radius + surface.tube : 0);

/** The run that is right for a ray square to the surface. */
function firstGuess(surface: DatumSurface, ray: Ray): number {
  switch (surface.shape) {
    case 'plane':
      return dot(subtract(surface.point, ray.point), surface.normal) / dot(ray.direction, surface.normal);
    case 'sphere':
      return dot(subtract(surface.point, ray.point), ray.direction) + ahead(surface.side) * surface.radius;
    case 'cone':
      return -ahead(surface.side) * signedDistance(surface, ray.point).value;
    case 'torus': {
      const { rho, zeta, radial } = aboutAxis(ray.point, surface.point, surface.axis);
      const toCircle = add(scale(radial, surface.radius - rho), scale(surface.axis, -zeta));
      return dot(toCircle, ray.direction) + ahead(surface.side) * surface.tube;
    }
  }
}

const ahead = (side: Side): 1 | -1 => (side === 'inside' ? 1 : -1);

function isRightCrossing(surface: DatumSurface, run: number, slope: number): boolean {
  if (!(run > 0)) return false;
  if (surface.shape === 'plane') return slope < 0;
  return slope * ahead(surface.side) > 0;
}
