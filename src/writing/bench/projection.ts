/**
 * The two views of the bench. Both have z to the right, so that the light runs from left to right: the side view is seen from −x
 * (y up), the plan view from above, +y (x up). mm, substrate frame.
 */
import type { ConvexBody } from '../../geometry/convex-bodies.ts';
import { convexHull } from '../../geometry/extent.ts';
import { add, dot, scale, unit, type Vec2, type Vec3 } from '../../geometry/vector.ts';

export interface Projection {
  readonly name: 'side' | 'plan';
  /** The axis that points up. */
  readonly up: 'x' | 'y';
  /** Toward the viewer. */
  readonly viewer: Vec3;
  readonly title: string;
  /** [to the right, up]. */
  readonly flat: (place: Vec3) => Vec2;
  /** The direction in space that lies so in the view. */
  readonly upright: (direction: Vec2) => Vec3;
}

export const SIDE: Projection = {
  name: 'side',
  up: 'y',
  viewer: [-1, 0, 0],
  title: 'SIDE VIEW, seen from −x',
  flat: ([, y, z]) => [z, y],
  upright: ([right, up]) => [0, up, right],
};

export const PLAN: Projection = {
  name: 'plan',
  up: 'x',
  viewer: [0, 1, 0],
  title: 'PLAN VIEW, seen from +y (above)',
  flat: ([x, , z]) => [z, x],
  upright: ([right, up]) => [up, 0, right],
};

/** Directions in which a body's edge is asked for. */
const DIRECTIONS = 72;

/** The edge of a convex body as it is seen, counterclockwise. */
export function silhouette({ support, margin }: ConvexBody, { flat, upright }: Projection): readonly Vec2[] {
  return convexHull(
    Array.from({ length: DIRECTIONS }, (_, k) => {
      const angle = (2 * Math.PI * k) / DIRECTIONS;
      const direction = unit(upright([Math.cos(angle), Math.sin(angle)]));
      return flat(add(support(direction), scale(direction, margin)));
    }),
  );
}

/** Of two unit vectors: this nearly along the line of sight, 1°, an axis is a point. */
const END_ON = Math.cos(Math.PI / 180);

export const isEndOn = (axis: Vec3, { viewer }: Projection): boolean => Math.abs(dot(axis, viewer)) > END_ON;
