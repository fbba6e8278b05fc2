/**
 * Whether two outlines, as regions, stand at least some distance apart, mm: the same answer as `gapBetween` gives to within its
 * 1e-9 mm, mostly without its search. Discs within and about the regions tell most pairs; circles and rectangles are then set apart
 * along the directions of their sides and of their centres (separating axes: the distance of two convex regions is no less than their
 * separation along any direction, and 0 where no side's direction separates two rectangles).
 * C. Ericson, Real-Time Collision Detection, Morgan Kaufmann 2005, §4.4.
 */
import { gapBetween } from './clearance.ts';
import { boundsOf } from './extent.ts';
import type { CircleOutline, Outline, RectangleOutline } from './outline.ts';
import type { Vec2 } from './vector.ts';

/** Regions that overlap do not stand apart, whatever the distance. */
export function standApart(a: Outline, b: Outline, distance: number): boolean {
  const [one, other] = [discAbout(a), discAbout(b)];
  const [dx, dy] = [other.centre[0] - one.centre[0], other.centre[1] - one.centre[1]];
  const away = Math.sqrt(dx * dx + dy * dy);
  if (away >= one.outer + other.outer + distance) return true;
  if (away < one.inner + other.inner + distance) return false;
  if (isBlock(a) && isBlock(b)) {
    const { most, ofSides } = separations(a, b, [dx, dy], away);
    if (most >= distance) return true;
    if (ofSides < 0 && a.shape === 'rectangle' && b.shape === 'rectangle') return false;
  }
  const { gap } = gapBetween(a, b);
  return gap > 0 && gap >= distance;
}

type Block = CircleOutline | RectangleOutline;
const isBlock = (outline: Outline): outline is Block =>
  outline.shape === 'circle' || outline.shape === 'rectangle';

interface Disc {
  readonly centre: Vec2;
  /** Radius of a disc about the centre that the region holds whole; −Infinity where none is known. */
  readonly inner: number;
  /** Radius of a disc about the centre that holds the region whole. */
  readonly outer: number;
}

function discAbout(outline: Outline): Disc {
  if (outline.shape === 'circle') {
    const { centre, radius } = outline;
    return { centre, inner: radius, outer: radius };
  }
  if (outline.shape === 'rectangle') {
    const { centre, width, height } = outline;
    return {
      centre,
      inner: Math.min(width, height) / 2,
      outer: Math.sqrt(width * width + height * height) / 2,
    };
  }
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return {
    centre: [(minX + maxX) / 2, (minY + maxY) / 2],
    inner: Number.NEGATIVE_INFINITY,
    outer: Math.sqrt((maxX - minX) ** 2 + (maxY - minY) ** 2) / 2,
  };
}

/** The largest separation along any of the directions, and along those of the sides alone. */
function separations(
  a: Block,
  b: Block,
  [dx, dy]: Vec2,
  away: number,
): { readonly most: number; readonly ofSides: number } {
  const along = (x: number, y: number): number =>
    Math.abs(dx * x + dy * y) - halfAlong(a, x, y) - halfAlong(b, x, y);
  let ofSides = Number.NEGATIVE_INFINITY;
  for (const block of [a, b]) {
    if (block.shape !== 'rectangle') continue;
    const [c, s] = [Math.cos(block.rotation), Math.sin(block.rotation)];
    ofSides = Math.max(ofSides, along(c, s), along(-s, c));
  }
  return { most: away > 0 ? Math.max(ofSides, along(dx / away, dy / away)) : ofSides, ofSides };
}

/** Half of the region's extent along a unit vector. */
function halfAlong(block: Block, x: number, y: number): number {
  if (block.shape === 'circle') return block.radius;
  const [c, s] = [Math.cos(block.rotation), Math.sin(block.rotation)];
  return (block.width * Math.abs(x * c + y * s) + block.height * Math.abs(y * c - x * s)) / 2;
}
