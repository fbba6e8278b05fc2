/**
 * Signed distances of a point from solids, mm: how far outside it lies, negative where it is inside. Closed form: a solid of
 * revolution by its half profile, a plate by its outline and its faces. A closed surface of triangles counts its turns around the
 * point by solid angles: A. van Oosterom, J. Strackee, IEEE Trans. Biomed. Eng. 30, 125 (1983).
 */
import { depthIn } from './contains.ts';
import { hullBody } from './convex-bodies.ts';
import type { Outline } from './outline.ts';
import { meshDistance, meshOf, triangleAt } from './solids-mesh.ts';
import { cross, distance, dot, length, squareTo, subtract, type Vec2, type Vec3 } from './vector.ts';

type SignedDistance = (point: Vec3) => number;

export const fromSphere =
  (centre: Vec3, radius: number): SignedDistance =>
  (point) =>
    distance(point, centre) - radius;

/** A frustum as in `frustumBody`: radius `near` at `base`, `far` at the other end, `height` away along the unit vector `axis`. */
export function fromFrustum(
  base: Vec3,
  axis: Vec3,
  near: number,
  far: number,
  height: number,
): SignedDistance {
  const profile: readonly Vec2[] = [
    [0, 0],
    [near, 0],
    [far, height],
    [0, height],
  ];
  return (point) => {
    const away = subtract(point, base);
    const at: Vec2 = [length(squareTo(away, axis)), dot(away, axis)];
    const least = Math.min(...[0, 1, 2].map((k) => toSegment(at, profile[k]!, profile[k + 1]!)));
    const isInside = at[1] > 0 && at[1] < height && at[0] < near + ((far - near) * at[1]) / height;
    return isInside ? -least : least;
  };
}

/** An upright box. */
export const fromBox =
  (corner: Vec3, size: Vec3): SignedDistance =>
  (point) =>
    joint(
      [0, 1, 2].map((axis) => Math.abs(point[axis]! - corner[axis]! - size[axis]! / 2) - size[axis]! / 2),
    );

/** A plate with parallel faces at z = `low` and z = `high` and the edge `outline`. */
export const fromPlate =
  (outline: Outline, low: number, high: number): SignedDistance =>
  ([x, y, z]) =>
    joint([-depthIn(outline, [x, y]), Math.max(low - z, z - high)]);

/** Nine coordinates a triangle; an open surface has no inside. */
export function fromMesh(corners: Float64Array): SignedDistance {
  const mesh = meshOf(corners);
  const { least, most } = mesh.root;
  return (point) => {
    const away = meshDistance(mesh, hullBody([point]));
    if (point.some((value, axis) => value < least[axis]! || value > most[axis]!)) return away;
    let turns = 0;
    for (let k = 0; k < corners.length / 9; k++) turns += solidAngle(triangleAt(mesh, k), point);
    return Math.abs(turns) > 2 * Math.PI ? -away : away;
  };
}

/** By the distances past each of several square pairs of faces, negative inside of them. */
function joint(past: readonly number[]): number {
  const most = Math.max(...past);
  return most <= 0 ? most : Math.hypot(...past.map((way) => Math.max(0, way)));
}

function toSegment(point: Vec2, from: Vec2, to: Vec2): number {
  const run: Vec2 = [to[0] - from[0], to[1] - from[1]];
  const size2 = run[0] ** 2 + run[1] ** 2;
  const along = size2 > 0 ? ((point[0] - from[0]) * run[0] + (point[1] - from[1]) * run[1]) / size2 : 0;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(point[0] - from[0] - share * run[0], point[1] - from[1] - share * run[1]);
}

/** Signed, sr. */
function solidAngle(triangle: readonly [Vec3, Vec3, Vec3], from: Vec3): number {
  const [a, b, c] = triangle.map((corner) => subtract(corner, from)) as [Vec3, Vec3, Vec3];
  const [la, lb, lc] = [length(a), length(b), length(c)];
  const below = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb;
  return 2 * Math.atan2(dot(a, cross(b, c)), below);
}
