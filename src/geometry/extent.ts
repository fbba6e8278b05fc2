/** How far outlines reach, exactly (arcs as true arcs), and their areas: mm and mm². */
import { boundaryOf, twiceSignedArea } from './boundary.ts';
import { type Outline, ofOutline } from './outline.ts';
import { type Arc, directionOf, onCircle, type Piece, pointAlong, sweepsOver } from './piece.ts';
import { cross2, distance2, subtract2, type Vec2 } from './vector.ts';

export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export interface Extent {
  readonly min: number;
  readonly max: number;
}

/** The least upright rectangle around the outline; nearly every rule asks for it. */
export const boundsOf = ofOutline((outline): Bounds => {
  const x = extentAlong(outline, [0, 0], [1, 0]);
  const y = extentAlong(outline, [0, 0], [0, 1]);
  return { minX: x.min, maxX: x.max, minY: y.min, maxY: y.max };
});

/**
 * The least and the greatest of (p − origin)·direction over the outline's points p, in mm; `direction` need not be of
 * unit length. Throws a RangeError for a direction of no length.
 */
export function extentAlong(outline: Outline, origin: Vec2, direction: Vec2): Extent {
  const size = Math.hypot(direction[0], direction[1]);
  if (!(size > 0)) throw new RangeError(`no direction in the vector [${direction.join(', ')}]`);
  const along: Vec2 = [direction[0] / size, direction[1] / size];
  const heading = Math.atan2(along[1], along[0]);
  let [min, max] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const loop of boundaryOf(outline))
    for (const piece of loop)
      for (const [x, y] of [...endsOf(piece), ...crownsOf(piece, heading)]) {
        const reach = (x - origin[0]) * along[0] + (y - origin[1]) * along[1];
        min = Math.min(min, reach);
        max = Math.max(max, reach);
      }
  return { min, max };
}

/** The distance from `point`, wherever it lies, to the farthest point of the outline. */
export function largestDistanceFrom(outline: Outline, point: Vec2): number {
  let most = 0;
  for (const loop of boundaryOf(outline))
    for (const piece of loop) {
      for (const end of endsOf(piece)) most = Math.max(most, distance2(end, point));
      if (piece.kind === 'arc' && sweepsOver(piece, directionOf(point, piece.centre)))
        most = Math.max(most, distance2(point, piece.centre) + piece.radius);
    }
  return most;
}

/**
 * How wide the region is where it is narrowest, mm: the least distance between two parallel lines that hold it, and no
 * more than the wall of a ring or a sector. Exact: of a convex hull's widths the least is taken either square to one of
 * its straight edges or along the normal of an arc at a corner facing it.
 */
export function narrowestWidth(outline: Outline): number {
  const across = (heading: number): number => {
    const { min, max } = extentAlong(outline, [0, 0], [Math.cos(heading), Math.sin(heading)]);
    return max - min;
  };
  switch (outline.shape) {
    case 'circle':
      return 2 * outline.radius;
    case 'ring':
      return outline.inner > 0 ? outline.outer - outline.inner : 2 * outline.outer;
    case 'ellipse':
    case 'rectangle':
      return Math.min(outline.width, outline.height);
    case 'sector': {
      const { from, to } = outline;
      const middle = (from + to) / 2;
      const wall = outline.inner > 0 ? outline.outer - outline.inner : Number.POSITIVE_INFINITY;
      return Math.min(wall, ...[from, to, middle].flatMap((h) => [across(h), across(h + Math.PI / 2)]));
    }
    case 'polygon':
      return leastWidthOfPolygon(outline.points);
  }
}

/** The area of the region, holes taken off. */
export function areaOf(outline: Outline): number {
  switch (outline.shape) {
    case 'circle':
      return Math.PI * outline.radius ** 2;
    case 'ring':
      return Math.PI * (outline.outer - outline.inner) * (outline.outer + outline.inner);
    case 'sector':
      return (
        ((outline.to - outline.from) / 2) * (outline.outer - outline.inner) * (outline.outer + outline.inner)
      );
    case 'ellipse':
      return (Math.PI / 4) * outline.width * outline.height;
    case 'rectangle':
      return outline.width * outline.height;
    case 'polygon':
      return Math.abs(twiceSignedArea(outline.points)) / 2;
  }
}

/** The least upright rectangle around one piece. */
export function pieceBounds(piece: Piece): Bounds {
  const points = [...endsOf(piece), ...crownsOf(piece, 0), ...crownsOf(piece, Math.PI / 2)];
  const xs = points.map((point) => point[0]);
  const ys = points.map((point) => point[1]);
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
}

/**
 * A hull's width is least square to one of its edges. The corner farthest from an edge moves on round the hull as the edge does, so
 * that each corner is passed twice at most (rotating calipers; M. I. Shamos, *Computational Geometry*, thesis, Yale 1978).
 */
function leastWidthOfPolygon(points: readonly Vec2[]): number {
  const hull = convexHull(points);
  const corner = (k: number): Vec2 => hull[k % hull.length]!;
  let least = Number.POSITIVE_INFINITY;
  let farthest = 1;
  hull.forEach((from, k) => {
    const to = corner(k + 1);
    const size = distance2(from, to);
    const reach = (j: number): number => cross2(subtract2(to, from), subtract2(corner(j), from)) / size;
    farthest = Math.max(farthest, k + 1);
    while (farthest < k + hull.length && reach(farthest + 1) >= reach(farthest)) farthest++;
    least = Math.min(least, reach(farthest));
  });
  return least;
}

/** Corners of the convex hull, counterclockwise (Andrew's monotone chain). */
export function convexHull(points: readonly Vec2[]): readonly Vec2[] {
  const sorted = points.toSorted((p, q) => p[0] - q[0] || p[1] - q[1]);
  const chain = (ordered: readonly Vec2[]): Vec2[] => {
    const kept: Vec2[] = [];
    for (const point of ordered) {
      while (
        kept.length > 1 &&
        cross2(subtract2(kept.at(-1)!, kept.at(-2)!), subtract2(point, kept.at(-1)!)) <= 0
      )
        kept.pop();
      kept.push(point);
    }
    return kept.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.toReversed())];
}

const endsOf = (piece: Piece): readonly Vec2[] => [pointAlong(piece, 0), pointAlong(piece, 1)];

/** Where an arc's tangent is square to the heading: its farthest points along it and against it. */
function crownsOf(piece: Piece, heading: number): readonly Vec2[] {
  if (piece.kind === 'segment') return [];
  const crown = (arc: Arc, direction: number): Vec2[] =>
    sweepsOver(arc, direction) ? [onCircle(arc.centre, arc.radius, direction)] : [];
  return [...crown(piece, heading), ...crown(piece, heading + Math.PI)];
}
