/** Whether a point lies in an outline's region, in closed form; places in mm. */
import { boundaryOf } from './boundary.ts';
import type { EllipseOutline, Outline, RectangleOutline, SectorOutline } from './outline.ts';
import { nearestOn } from './piece.ts';
import { distance2, type Vec2 } from './vector.ts';

/** A point this near to the edge counts as on it (mm): a picometre-scale allowance for the rounding of sines and roots. */
export const ON_EDGE = 1e-9;

/** Whether `point` lies in the region, its edge included (to ON_EDGE). A ring's hole is outside. */
export function contains(outline: Outline, point: Vec2): boolean {
  return covers(outline, point) || distanceToEdge(outline, point) <= ON_EDGE;
}

/** The distance from a point, inside or outside, to the outline's edge. */
export function distanceToEdge(outline: Outline, point: Vec2): number {
  let least = Number.POSITIVE_INFINITY;
  for (const loop of boundaryOf(outline))
    for (const piece of loop) least = Math.min(least, distance2(point, nearestOn(piece, point)));
  return least;
}

/** The point of the outline's edge that is nearest to a point, inside or outside. */
export function nearestOnEdge(outline: Outline, point: Vec2): Vec2 {
  const all = boundaryOf(outline).flatMap((loop) => loop.map((piece) => nearestOn(piece, point)));
  return all.reduce((best, at) => (distance2(at, point) < distance2(best, point) ? at : best));
}

/** How deep a point lies in the region: its distance to the edge, negative outside. */
export function depthIn(outline: Outline, point: Vec2): number {
  const away = distanceToEdge(outline, point);
  return covers(outline, point) ? away : -away;
}

/** As `contains`, without the allowance: a point of the edge may fall on either side by rounding. */
export function covers(outline: Outline, point: Vec2): boolean {
  switch (outline.shape) {
    case 'circle':
      return distance2(outline.centre, point) <= outline.radius;
    case 'ring': {
      const away = distance2(outline.centre, point);
      return away <= outline.outer && away >= outline.inner;
    }
    case 'rectangle': {
      const [u, v] = inOwnAxes(outline, point);
      return Math.abs(u) <= outline.width / 2 && Math.abs(v) <= outline.height / 2;
    }
    case 'ellipse': {
      const [u, v] = inOwnAxes(outline, point);
      return (2 * u) ** 2 / outline.width ** 2 + (2 * v) ** 2 / outline.height ** 2 <= 1;
    }
    case 'sector':
      return sectorCovers(outline, point);
    case 'polygon':
      return isInPolygon(outline.points, point);
  }
}

/** From the outline's centre, along its own sides or axes. */
function inOwnAxes({ centre, rotation }: EllipseOutline | RectangleOutline, point: Vec2): Vec2 {
  const [dx, dy] = [point[0] - centre[0], point[1] - centre[1]];
  if (rotation === 0) return [dx, dy];
  const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
  return [dx * c + dy * s, dy * c - dx * s];
}

function sectorCovers({ centre, inner, outer, from, to }: SectorOutline, point: Vec2): boolean {
  const [dx, dy] = [point[0] - centre[0], point[1] - centre[1]];
  const away = Math.sqrt(dx * dx + dy * dy);
  if (away > outer || away < inner) return false;
  const turned = Math.atan2(dy, dx) - from;
  return turned - 2 * Math.PI * Math.floor(turned / (2 * Math.PI)) <= to - from;
}

/** Crossings of the ray toward +x, each edge half open in y so that a vertex counts once. */
export function isInPolygon(points: readonly Vec2[], [x, y]: Vec2): boolean {
  let inside = false;
  for (let k = 0, before = points.length - 1; k < points.length; before = k++) {
    const p = points[before]!;
    const q = points[k]!;
    if (p[1] > y !== q[1] > y && x < p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0])) inside = !inside;
  }
  return inside;
}
