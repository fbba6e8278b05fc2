/**
 * A datum surface as light meets it: its signed distance (positive outside the tube, ball, cone or half-space), where a ray that
 * comes near normal incidence meets it, and how it leaves. Lengths mm, radians; axes and normals unit vectors.
 *
 * Each distance is exact and of unit gradient, so that Newton's method along a ray settles in a few steps. Which of two crossings
 * is meant, `side` says: light goes into the solid at an outside, out of the hollow at an inside.
 */
import {
  composed,
  type Frame,
  type Mat3,
  placeFromParent,
  placeToParent,
  rotate,
  rotateBack,
  rotationFromVector,
} from '../geometry/frame.ts';
import type { Sag } from '../geometry/sag.ts';
import { meanCurvature, runToSag } from '../geometry/sag-crossing.ts';
import { sagDistance } from '../geometry/sag-distance.ts';
import { add, dot, length, scale, subtract, unit, type Vec2, type Vec3 } from '../geometry/vector.ts';
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
    }
  | SagSurface;

/** A surface by its sag, `point` its vertex: the origin of the sag's own frame, which is turned by `rotation`. */
export interface SagSurface {
  readonly shape: 'sag';
  readonly point: Vec3;
  readonly rotation: Mat3;
  readonly sag: Sag;
  /** On which side of the surface along its axis the air is. */
  readonly faces: 1 | -1;
  /** Its own coordinates of places that are met, the likeliest first: they tell which part of the surface is meant. */
  readonly near: readonly Vec2[];
}

const frameOf = ({ point, rotation }: SagSurface): Frame => ({ origin: point, rotation });

/** Distance from the surface, mm, and its gradient, the unit normal out of the solid; not numbers where a sag has no foot. */
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
    case 'sag': {
      const { sag, rotation, faces } = surface;
      const found = sagDistance(sag, placeFromParent(frameOf(surface), place));
      if (found === undefined) return { value: Number.NaN, normal: [Number.NaN, Number.NaN, Number.NaN] };
      return { value: faces * found.value, normal: scale(rotate(rotation, found.normal), faces) };
    }
  }
}

/** The run along the ray to where it meets the surface from the right side, mm; undefined where it does not, ahead of it. */
export function runToSurface(surface: DatumSurface, ray: Ray): number | undefined {
  if (surface.shape === 'sag') {
    const point = placeFromParent(frameOf(surface), ray.point);
    const run = runToSag(surface.sag, point, rotateBack(surface.rotation, ray.direction));
    if (run === undefined) return undefined;
    const slope = dot(signedDistance(surface, along(ray, run)).normal, ray.direction);
    return run > 0 && slope < 0 ? run : undefined;
  }
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
  return turnedSurface(surface, point, rotation);
}

/** The surface after a rigid motion x → origin + R·x. */
export const carriedSurface = <S extends DatumSurface>(surface: S, motion: Frame): S =>
  turnedSurface(surface, placeToParent(motion, surface.point), motion.rotation);

/** Turned, its own point found at `point` then. */
function turnedSurface<S extends DatumSurface>(surface: S, point: Vec3, rotation: Mat3): S {
  if (surface.shape === 'sphere') return { ...surface, point };
  if (surface.shape === 'plane') return { ...surface, point, normal: rotate(rotation, surface.normal) };
  if (surface.shape === 'sag')
    return { ...surface, point, rotation: composed({ origin: point, rotation }, frameOf(surface)).rotation };
  return { ...surface, point, axis: rotate(rotation, surface.axis) };
}

/** Radius of curvature as the light meets it at a place, positive where it is convex; Infinity along a cone or a plane; of a sag by its mean curvature. */
export function radiusAt(surface: DatumSurface, place: Vec3): number {
  if (surface.shape === 'sag') {
    const [x, y] = placeFromParent(frameOf(surface), place);
    const bend = -surface.faces * (meanCurvature(surface.sag, x, y) ?? 0);
    return bend === 0 ? Infinity : 1 / bend;
  }
  const radius =
    surface.shape === 'sphere' ? surface.radius : surface.shape === 'torus' ? surface.tube : Infinity;
  return 'side' in surface && surface.side === 'inside' ? -radius : radius;
}

/** A crossing is met when the distance is this small against the lengths that it is the difference of: a few of their last digits. */
const MET = 1e-15;
/** Quadratic, from a guess that is exact for a ray square to the surface. */
const MOST_STEPS = 30;

/** The lengths that the distance of a place is worked out from, mm: its own from the surface's point, and the tube's circle. */
const sizeAt = (surface: DatumSurface, place: Vec3): number =>
  length(subtract(place, surface.point)) + (surface.shape === 'torus' ? surface.radius + surface.tube : 0);

/** The run that is right for a ray square to the surface. */
function firstGuess(surface: Exclude<DatumSurface, SagSurface>, ray: Ray): number {
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

function isRightCrossing(surface: Exclude<DatumSurface, SagSurface>, run: number, slope: number): boolean {
  if (!(run > 0)) return false;
  if (surface.shape === 'plane') return slope < 0;
  return slope * ahead(surface.side) > 0;
}
