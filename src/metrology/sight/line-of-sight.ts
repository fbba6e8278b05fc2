/**
 * The way of a patch's light through the air to its reference, ray by ray, and whether a solid stands in it. Substrate frame, mm.
 *
 * A ray leaves the last face of the glass with the lateral cosines ∇E_in + mλ∇Φ that the pattern gives it. It ends where it
 * enters the reference's own ball (a tooling ball's surface; the sphere that holds a cube, hollow toward the light), or where it
 * passes nearest to the target if the reference has no ball; on its way to a datum feature of the part, just short of it. What the ball touches there is not in the light's way.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers, distanceToEdge } from '../../geometry/contains.ts';
import {
  type BallAround,
  ballAround,
  type ConvexBody,
  convexDistance,
  hullBody,
} from '../../geometry/convex-bodies.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { interiorGrid, spacingFor } from '../../geometry/sampling.ts';
import { distance, dot, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { runToSurface } from '../../optics/datum-surface.ts';
import { along, rayPastGlass } from '../../optics/ray.ts';
import { lateralCosines } from '../../optics/round-trip.ts';

/** Something that may stand in the way: how far a convex body is from it (0: they meet). */
export interface Obstacle {
  /** As findings name it: `the part's envelope 1 (cylinder)`. */
  readonly name: string;
  /** Holds all of it. */
  readonly around: BallAround;
  readonly distanceFrom: (body: ConvexBody) => number;
}

export interface Sight {
  /** In air, from the glass (or the pattern) to the reference. */
  readonly from: Vec3;
  readonly to: Vec3;
}

/** The rays from, or to, points of the pattern on one side of it; undefined for one that is evanescent. */
export type Sights = (
  design: Design,
  patch: DesignedPatch,
  xs: Float64Array,
  ys: Float64Array,
) => readonly (Sight | undefined)[];

/** A solid that keeps less than a cell of this side (mm) from the light is not noticed: fringes do not show such a nick. */
const SMALLEST_NICK = 0.05;
/** Between the corners of a cell the light through glass bends off its hull by less than this, mm. */
const BEND = 1e-3;
/** Rays that the share of the blocked light is counted by. */
const COUNTED_RAYS = 400;

/** The rays from points of the pattern; undefined for one that is evanescent. */
export function sightsOf(
  design: Design,
  patch: DesignedPatch,
  xs: Float64Array,
  ys: Float64Array,
): readonly (Sight | undefined)[] {
  if (isReadBy(patch.reference, 'alignment')) return Array.from(xs, () => undefined);
  const light = { ...design.light, order: patch.order, incident: design.beam.eikonal, phase: patch.phase };
  const { px, py } = lateralCosines(light, xs, ys);
  return Array.from(xs, (x, i) => sightAlong(design, patch, [x, ys[i]!], [px[i]!, py[i]!]));
}

function sightAlong(design: Design, patch: DesignedPatch, at: Vec2, cosines: Vec2): Sight | undefined {
  const ray = rayPastGlass(design.glass, at, cosines);
  if (ray === undefined) return undefined;
  const { point: from, direction } = ray;
  if (patch.normalIncidence !== undefined) {
    const run = runToSurface(patch.normalIncidence.surface, ray);
    return run === undefined ? undefined : { from, to: along(ray, Math.max(0, run - SMALLEST_NICK)) };
  }
  const toTarget = subtract(patch.target, from);
  const nearest = dot(toTarget, direction);
  const radius = (patch.reference.diameter ?? 0) / 2;
  const halfChord2 = radius * radius - (dot(toTarget, toTarget) - nearest * nearest);
  const run = halfChord2 > 0 ? nearest - Math.sqrt(halfChord2) : nearest;
  return { from, to: along(ray, Math.max(0, run)) };
}

/** All of a patch's light: within `radius` of the segment, mm. */
interface LightTube {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
}

/** Undefined where no ray from the corners or the middle of the patch goes anywhere. */
export function lightTube(design: Design, patch: DesignedPatch): LightTube | undefined {
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const xs = Float64Array.of(minX, maxX, maxX, minX, (minX + maxX) / 2);
  const ys = Float64Array.of(minY, minY, maxY, maxY, (minY + maxY) / 2);
  const rays = sightsOf(design, patch, xs, ys).filter((sight) => sight !== undefined);
  const middle = rays.at(-1);
  if (middle === undefined) return undefined;
  const { from, to } = middle;
  const radius = rays.reduce(
    (most, ray) => Math.max(most, distance(ray.from, from), distance(ray.to, to)),
    0,
  );
  return { from, to, radius: radius + BEND };
}

/** Whether the obstacle clearly stands beside the light: told by the ball around it, so that most need no exact distance. */
export function standsBeside({ from, to, radius }: LightTube, { around }: Obstacle): boolean {
  const [rx, ry, rz] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const [cx, cy, cz] = [around.centre[0] - from[0], around.centre[1] - from[1], around.centre[2] - from[2]];
  const run = rx * rx + ry * ry + rz * rz;
  const share = run > 0 ? Math.min(1, Math.max(0, (cx * rx + cy * ry + cz * rz) / run)) : 0;
  const [dx, dy, dz] = [cx - share * rx, cy - share * ry, cz - share * rz];
  const clear = radius + around.radius;
  return dx * dx + dy * dy + dz * dz > clear * clear;
}

/**
 * The share of the patch's rays that meet the obstacle, 0 where its light clears it. The light is cut into ever smaller
 * cells: a cell whose hull clears the obstacle is done with, a ray that meets it settles the matter.
 */
export function blockedShare(
  design: Design,
  patch: DesignedPatch,
  obstacle: Obstacle,
  sights: Sights = sightsOf,
): number {
  if (!isBlocked(design, patch, obstacle, sights)) return 0;
  const { xs, ys } = interiorGrid(patch.outline, spacingFor(patch.outline, COUNTED_RAYS));
  const met = sights(design, patch, xs, ys).map((sight) => sight !== undefined && meets(obstacle, sight));
  return Math.max(1, met.filter(Boolean).length) / met.length;
}

function isBlocked(design: Design, patch: DesignedPatch, obstacle: Obstacle, sights: Sights): boolean {
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const waiting: Cell[] = [{ x: minX, y: minY, width: maxX - minX, height: maxY - minY }];
  for (let cell = waiting.pop(); cell !== undefined; cell = waiting.pop()) {
    const { x, y, width, height } = cell;
    const middle: Vec2 = [x + width / 2, y + height / 2];
    const covered = covers(patch.outline, middle);
    if (!covered && distanceToEdge(patch.outline, middle) > Math.hypot(width, height) / 2) continue;
    const [right, top] = [x + width, y + height];
    const corners = sights(
      design,
      patch,
      Float64Array.of(x, right, right, x, middle[0]),
      Float64Array.of(y, y, top, top, middle[1]),
    );
    const points = corners.flatMap((sight) => (sight === undefined ? [] : [sight.from, sight.to]));
    if (points.length === 0 || obstacle.distanceFrom(hullBody(points)) > BEND) continue;
    const centre = corners[4];
    if (covered && centre !== undefined && meets(obstacle, centre)) return true;
    if (Math.max(width, height) <= SMALLEST_NICK) continue;
    waiting.push(...quarters(cell));
  }
  return false;
}

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const quarters = ({ x, y, width, height }: Cell): Cell[] => {
  const half = { width: width / 2, height: height / 2 };
  return [0, 1].flatMap((i) =>
    [0, 1].map((j) => ({ x: x + i * half.width, y: y + j * half.height, ...half })),
  );
};

const meets = (obstacle: Obstacle, { from, to }: Sight): boolean =>
  obstacle.distanceFrom(hullBody([from, to])) === 0;

/** A convex solid as an obstacle. */
export const convexObstacle = (name: string, solid: ConvexBody): Obstacle => ({
  name,
  around: ballAround(solid),
  distanceFrom: (body) => convexDistance(solid, body),
});
