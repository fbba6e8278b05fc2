/**
 * Convex bodies by their support points (the farthest point along a direction): sphere, cylinder, cone or frustum, the hull of
 * points (box, triangle, segment, the light of a patch); and the distance between two, 0 where they meet. mm; axes are unit vectors.
 *
 * From the support points alone the Gilbert–Johnson–Keerthi iteration closes in on the nearest point of the difference of the two bodies
 * to the origin. A step gives an upper bound |v| and a lower bound v·w/|v|; it ends when they differ by less than BOUND, so that the
 * result is right to that.
 * E. G. Gilbert, D. W. Johnson, S. S. Keerthi, IEEE J. Robot. Autom. 4, 193 (1988); nearest points of a simplex as in
 * C. Ericson, *Real-Time Collision Detection*, ch. 5 and 9.
 */
import { add, cross, dot, length, scale, subtract, type Vec3 } from './vector.ts';

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

/** The upright box around the body's core. */
export function coreBounds({ support }: ConvexBody): { readonly least: Vec3; readonly most: Vec3 } {
  const [right, up, on] = AXES.map(support) as [Vec3, Vec3, Vec3];
  const [left, down, back] = AXES.map((axis) => support(scale(axis, -1))) as [Vec3, Vec3, Vec3];
  return { least: [left[0], down[1], back[2]], most: [right[0], up[1], on[2]] };
}

/** A ball that holds the body: about the box around its core. */
export function ballAround(body: ConvexBody): BallAround {
  const { least, most } = coreBounds(body);
  return ballOfBox(least, most, body.margin);
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

/** A convex body by its support points. */
export interface ConvexBody {
  /** The farthest point of the body's core along `direction`, which need not be a unit vector. */
  readonly support: (direction: Vec3) => Vec3;
  /** The body is all that is within this of its core, mm: the radius of a sphere, whose core is its centre. */
  readonly margin: number;
  /** Any point of the core. */
  readonly within: Vec3;
}

/** The result is this near to the true distance (mm), or nearer. */
const BOUND = 1e-9;
/** Flat ends are reached in some five steps, round ones in some twenty. */
const MOST_STEPS = 300;

export function convexDistance(a: ConvexBody, b: ConvexBody): number {
  const margins = a.margin + b.margin;
  const core = coreDistance(a, b, margins);
  return core > margins ? core - margins : 0;
}

/** Between the cores; any value under `enough` where that is known to be under it. */
function coreDistance(a: ConvexBody, b: ConvexBody, enough: number): number {
  let v = subtract(a.within, b.within);
  let simplex: Vec3[] = [];
  for (let step = 0; step < MOST_STEPS; step++) {
    const size2 = dot(v, v);
    const size = Math.sqrt(size2);
    if (size <= Math.max(BOUND, enough)) return simplex.length === 0 && size > BOUND ? size : 0;
    const w = subtract(a.support(scale(v, -1)), b.support(v));
    const least = dot(v, w) / size;
    if (simplex.length > 0 && size - least <= BOUND) return size;
    if (simplex.some((point) => point[0] === w[0] && point[1] === w[1] && point[2] === w[2])) return size;
    const nearest = nearestOfSimplex([...simplex, w]);
    // The start is a point of the difference too, but of no simplex: the first step may lead away from it.
    if (simplex.length > 0 && dot(nearest.point, nearest.point) >= size2) return size;
    v = nearest.point;
    simplex = nearest.simplex;
    if (simplex.length === 4) return 0;
  }
  return Math.sqrt(dot(v, v));
}

interface Nearest {
  readonly point: Vec3;
  /** The corners that carry the point. */
  readonly simplex: Vec3[];
}

/** The point of the simplex nearest to the origin: the nearest of all its faces' own nearest points. */
function nearestOfSimplex(corners: readonly Vec3[]): Nearest {
  if (corners.length === 4 && holdsOrigin(corners)) return { point: [0, 0, 0], simplex: [...corners] };
  let best: Nearest | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const face of FACES[corners.length - 1]!) {
    const chosen = face.map((k) => corners[k]!);
    const point = nearestInside(chosen);
    if (point === undefined) continue;
    const size2 = dot(point, point);
    if (size2 < least) [best, least] = [{ point, simplex: chosen }, size2];
  }
  return best!;
}

/** Corners, edges and triangles of simplices of 1 to 4 corners; the fewest corners first, so that ties keep the simplest. */
const FACES: readonly (readonly (readonly number[])[])[] = [1, 2, 3, 4].map((corners) => {
  const all = [...Array(corners).keys()];
  const after = (k: number): number[] => all.slice(k + 1);
  const edges = all.flatMap((i) => after(i).map((j) => [i, j]));
  const triangles = edges.flatMap(([i, j]) => after(j!).map((k) => [i!, j!, k]));
  return [...all.map((i) => [i]), ...edges, ...triangles];
});

/** The foot of the origin on a corner, an edge or a triangle; undefined where it lies outside of it. */
function nearestInside(corners: readonly Vec3[]): Vec3 | undefined {
  const [a, b, c] = corners as readonly [Vec3, Vec3, Vec3];
  if (corners.length === 1) return a;
  const ab = subtract(b, a);
  if (corners.length === 2) {
    const along = -dot(a, ab) / dot(ab, ab);
    return along > 0 && along < 1 ? add(a, scale(ab, along)) : undefined;
  }
  const normal = cross(ab, subtract(c, a));
  const size2 = dot(normal, normal);
  if (!(size2 > 0)) return undefined;
  const foot = scale(normal, dot(a, normal) / size2);
  const inside = [
    [a, b],
    [b, c],
    [c, a],
  ].every(([from, to]) => dot(cross(subtract(to!, from!), subtract(foot, from!)), normal) > 0);
  return inside ? foot : undefined;
}

/** Whether the origin is on the inner side of each face of a tetrahedron that has a volume. */
function holdsOrigin(corners: readonly Vec3[]): boolean {
  for (let k = 0; k < 4; k++) {
    const [a, b, c] = [1, 2, 3].map((step) => corners[(k + step) % 4]!) as [Vec3, Vec3, Vec3];
    const normal = cross(subtract(b, a), subtract(c, a));
    const apex = dot(subtract(corners[k]!, a), normal);
    const origin = -dot(a, normal);
    if (!(apex * origin >= 0) || apex === 0) return false;
  }
  return true;
}
