/**
 * Convex bodies by their support points, for distances (convex-distance.ts): sphere, cylinder, cone or frustum, the hull of
 * points (box, triangle, segment, the light of a patch). mm; axes are unit vectors.
 */
import type { ConvexBody } from './convex-distance.ts';
import { add, dot, length, scale, subtract, type Vec3 } from './vector.ts';

export const sphereBody = (centre: Vec3, radius: number): ConvexBody => ({
  support: () => centre,
  margin: radius,
  within: centre,
});

/** A frustum: radius `near` at `point`, `far` at the other end, `length` away along `axis`. Equal radii: a cylinder. */
export function frustumBody(point: Vec3, axis: Vec3, near: number, far: number, length: number): ConvexBody {
  const end = add(point, scale(axis, length));
  const rim = (centre: Vec3, radius: number, across: Vec3, size: number): Vec3 =>
    size > 0 ? add(centre, scale(across, radius / size)) : centre;
  return {
    support: (direction) => {
      const along = dot(direction, axis);
      const across: Vec3 = [
        direction[0] - along * axis[0],
        direction[1] - along * axis[1],
        direction[2] - along * axis[2],
      ];
      const lateral = Math.sqrt(dot(across, across));
      const size = lateral > ALONG_AXIS * Math.abs(along) ? lateral : 0;
      return size * near >= size * far + along * length
        ? rim(point, near, across, size)
        : rim(end, far, across, size);
    },
    margin: 0,
    within: add(point, scale(axis, length / 2)),
  };
}

/** A direction this nearly along the axis (as a ratio) is along it: what is left across is rounding and points anywhere. */
const ALONG_AXIS = 1e-12;

/** The convex hull of points, of which there is at least one. */
export function hullBody(points: readonly Vec3[]): ConvexBody {
  const first = points[0];
  if (first === undefined) throw new RangeError('a hull of no points has no distance');
  return {
    support: (direction) => {
      let [best, most] = [first, dot(first, direction)];
      for (const point of points) {
        const reach = dot(point, direction);
        if (reach > most) [best, most] = [point, reach];
      }
      return best;
    },
    margin: 0,
    within: first,
  };
}

/** The eight corners of an upright box. */
export function boxCorners(corner: Vec3, size: Vec3): readonly Vec3[] {
  const at = (k: number): Vec3 => [
    corner[0] + (k & 1 ? size[0] : 0),
    corner[1] + (k & 2 ? size[1] : 0),
    corner[2] + (k & 4 ? size[2] : 0),
  ];
  return Array.from({ length: 8 }, (_, k) => at(k));
}

export interface BallAround {
  readonly centre: Vec3;
  readonly radius: number;
}

/** A ball that holds the body: about the box around its core. */
export function ballAround({ support, margin }: ConvexBody): BallAround {
  const [right, up, on] = AXES.map(support) as [Vec3, Vec3, Vec3];
  const [left, down, back] = AXES.map((axis) => support(scale(axis, -1))) as [Vec3, Vec3, Vec3];
  return ballOfBox([left[0], down[1], back[2]], [right[0], up[1], on[2]], margin);
}

/** The ball through the corners of an upright box, larger by `margin`. */
export function ballOfBox(least: Vec3, most: Vec3, margin = 0): BallAround {
  const half = scale(subtract(most, least), 1 / 2);
  return { centre: add(least, half), radius: length(half) + margin };
}

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
