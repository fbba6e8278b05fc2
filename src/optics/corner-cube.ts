/**
 * A hollow corner cube: three plane mirrors that meet at an apex, as in a sphere-mounted retroreflector.
 *
 * mm, radians; directions unit vectors. The perfect cube inverts a ray through its apex, X → 2A − X, d → −d, whatever its
 * orientation; with dihedral errors the mirrors are traced one by one, in the order in which the ray meets them. Orientation
 * decides what is lost: at the mouth (coming or going), along the three edges and about the apex.
 *
 * In the frame of the three edges the inside of the cube is the octant of positive coordinates. A mirror stands at 35.2644°
 * to the axis, so the mirrors fill a circle of radius r about the axis up from the height √2·r: the mouth of a cube whose
 * mirrors end at a ball of radius √3·r about the apex.
 */
import { add, cross, dot, scale, squareTo, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import type { Returned } from './ball.ts';
import { along, type Ray, reflect } from './ray.ts';

export interface CornerCube {
  readonly apex: Vec3;
  /** The direction the cube faces: a unit vector from the apex out of the mouth. */
  readonly axis: Vec3;
  /** Turns the edges about the axis; at 0 the first edge, seen along the axis, lies along +x made square to the axis. */
  readonly roll: number;
  /** Of the clear aperture, about the axis. Infinity for a cube that loses nothing. */
  readonly clearRadius: number;
  /** Whole width lost along each edge, seen along the ray. */
  readonly edgeBand: number;
  /** Radius lost about the apex, seen along the ray. */
  readonly apexZone: number;
  /** Angle between two mirrors less 90°, for the edges 1, 2, 3 (each edge opposite the mirror of its number). */
  readonly dihedralErrors?: Vec3;
}

type CubeLoss = 'outside aperture' | 'dead zone' | 'missed';

/** Clear aperture over the diameter of the ball whose inside the mirrors fill (see above): 1/√3. */
export const CLEAR_APERTURE_OF_BALL = 1 / Math.sqrt(3);

/** A perfect cube at `apex` that faces `toward`, without losses. */
export const idealCube = (apex: Vec3, toward: Vec3): CornerCube => ({
  apex,
  axis: unit(subtract(toward, apex)),
  roll: 0,
  clearRadius: Infinity,
  edgeBand: 0,
  apexZone: 0,
});

type Edges = readonly [Vec3, Vec3, Vec3];

/** Every ray asks for them anew: worked out once for each cube, which never changes. */
const edgesOf = new WeakMap<CornerCube, Edges>();

/** The three edges as unit vectors from the apex, square to each other: right-handed about the axis. */
export function cubeEdges(cube: CornerCube): Edges {
  const known = edgesOf.get(cube);
  if (known !== undefined) return known;
  const edges = workedOutEdges(cube);
  edgesOf.set(cube, edges);
  return edges;
}

function workedOutEdges(cube: CornerCube): Edges {
  const nearX = Math.abs(cube.axis[0]) > NEARLY_ALONG;
  const first = unit(squareTo(nearX ? [0, 1, 0] : [1, 0, 0], cube.axis));
  const second = cross(cube.axis, first);
  const edge = (index: number): Vec3 => {
    const turn = cube.roll + (2 * Math.PI * index) / 3;
    const outward = add(scale(first, Math.cos(turn)), scale(second, Math.sin(turn)));
    return add(scale(cube.axis, 1 / Math.sqrt(3)), scale(outward, Math.sqrt(2 / 3)));
  };
  return [edge(0), edge(1), edge(2)];
}

/** The ray as the perfect, boundless cube returns it: inverted through the apex; the path runs from ray to inverted point. */
export function invertRay(apex: Vec3, { point, direction }: Ray): Returned {
  const [dx, dy, dz] = direction;
  const path = (apex[0] - point[0]) * dx + (apex[1] - point[1]) * dy + (apex[2] - point[2]) * dz;
  // The ray's nearest point to the apex leaves on the other side of it, after that same path.
  const leaving: Vec3 = [
    2 * apex[0] - (point[0] + dx * path),
    2 * apex[1] - (point[1] + dy * path),
    2 * apex[2] - (point[2] + dz * path),
  ];
  return { ray: { point: leaving, direction: [-dx, -dy, -dz] }, path };
}

/** The ray traced over the mirrors, dihedral errors and all; undefined unless it meets each of the three. */
export function traceMirrors(cube: CornerCube, ray: Ray): Returned | undefined {
  const normals = mirrorNormals(cube);
  let { point, direction } = ray;
  let path = 0;
  let last = -1;
  let met = 0;
  for (let hits = 0; hits <= MIRRORS; hits++) {
    let nearest = Infinity;
    let mirror = -1;
    for (let i = 0; i < MIRRORS; i++) {
      const approach = dot(direction, normals[i]);
      if (i === last || approach >= 0) continue;
      const run = dot(subtract(cube.apex, point), normals[i]) / approach;
      if (run >= 0 && run < nearest) [nearest, mirror] = [run, i];
    }
    if (mirror < 0) break;
    point = along({ point, direction }, nearest);
    direction = reflect(direction, normals[mirror]);
    path += nearest;
    last = mirror;
    met |= 1 << mirror;
  }
  return met === ALL_MIRRORS ? { ray: { point, direction }, path } : undefined;
}

/** The ray as the cube returns it, or how it was lost. */
export function returnFromCube(cube: CornerCube, ray: Ray): Returned | CubeLoss {
  const loss = lossAtCube(cube, ray);
  if (loss !== undefined) return loss;
  if (cube.dihedralErrors === undefined) return invertRay(cube.apex, ray);
  return traceMirrors(cube, ray) ?? 'missed';
}

/**
 * How the cube loses the ray on its way in, or out again as inverted; undefined where it returns it. Written out in coordinates:
 * every ray of every patch passes here, and a vector made for each step costs more than the steps.
 */
export function lossAtCube(cube: CornerCube, ray: Ray): CubeLoss | undefined {
  const [dx, dy, dz] = ray.direction;
  const [ax, ay, az] = cube.axis;
  const facing = dx * ax + dy * ay + dz * az;
  if (facing >= 0) return 'missed';
  const fx = ray.point[0] - cube.apex[0];
  const fy = ray.point[1] - cube.apex[1];
  const fz = ray.point[2] - cube.apex[2];
  if (cube.clearRadius < Infinity) {
    const mouth = Math.SQRT2 * cube.clearRadius;
    const height = fx * ax + fy * ay + fz * az;
    // Going out, the inverted ray crosses the mouth where the arriving one crosses its mirror image behind the apex.
    for (let side = 1; side >= -1; side -= 2) {
      const run = (side * mouth - height) / facing;
      const cx = fx + dx * run - ax * side * mouth;
      const cy = fy + dy * run - ay * side * mouth;
      const cz = fz + dz * run - az * side * mouth;
      if (cx * cx + cy * cy + cz * cz > cube.clearRadius * cube.clearRadius) return 'outside aperture';
    }
  }
  const along = fx * dx + fy * dy + fz * dz;
  const [sx, sy, sz] = [fx - dx * along, fy - dy * along, fz - dz * along];
  const seen2 = sx * sx + sy * sy + sz * sz;
  if (cube.apexZone > 0 && seen2 < cube.apexZone * cube.apexZone) return 'dead zone';
  if (!(cube.edgeBand > 0 || cube.clearRadius < Infinity)) return undefined;
  for (const [ex, ey, ez] of cubeEdges(cube)) {
    const into = ex * dx + ey * dy + ez * dz;
    if (into >= 0) return 'missed';
    const spoke2 = 1 - into * into;
    if (cube.edgeBand === 0 || !(spoke2 > 0)) continue;
    // The edge seen along the ray, and again through the apex for the way out: a line over both. `seen` is square to the ray.
    const onSpoke = sx * ex + sy * ey + sz * ez;
    if (seen2 - (onSpoke * onSpoke) / spoke2 < (cube.edgeBand * cube.edgeBand) / 4) return 'dead zone';
  }
  return undefined;
}

/** Beyond this cosine an axis is too near to x to take x as the start of the roll. */
const NEARLY_ALONG = 0.9;
const MIRRORS = 3;
const ALL_MIRRORS = 0b111;

/** Unit normals into the open cube: those of mirrors 2 and 3 have the cosine sin ε₁ (edge 1 lies between them), and so on. */
function mirrorNormals(cube: CornerCube): readonly [Vec3, Vec3, Vec3] {
  const [e1, e2, e3] = cubeEdges(cube);
  const [s1, s2, s3] = (cube.dihedralErrors ?? [0, 0, 0]).map(Math.sin) as [number, number, number];
  // Cholesky's factor of the matrix of cosines, so that each pair of mirrors has its own angle exactly.
  const c = Math.sqrt(1 - s3 * s3);
  const k = (s1 - s3 * s2) / c;
  return [
    e1,
    add(scale(e1, s3), scale(e2, c)),
    add(add(scale(e1, s2), scale(e2, k)), scale(e3, Math.sqrt(1 - s2 * s2 - k * k))),
  ];
}
