/**
 * How deep two regions reach into one another, mm: the sequel to a gap of 0, which does not tell touching from overlapping.
 */
import { boundaryOf } from './boundary.ts';
import { gapBetween, greatestAlong } from './clearance.ts';
import { depthIn } from './contains.ts';
import type { Outline } from './outline.ts';
import { interiorGrid, spacingFor } from './sampling.ts';

/** Points tried inside one outline where neither edge enters the other (one on top of the other, say). */
const TRIED_INSIDE = 24;

/**
 * The farthest that the edge of either outline comes inside the other, 0 where they only touch or stand apart. Where the two
 * share an inside although neither edge enters (equal outlines), the depth of a common point.
 * Found as closely as `greatestAlong` does; for two circles it is r₁ + r₂ less the distance of their centres.
 */
export function overlapDepth(a: Outline, b: Outline): number {
  const byEdge = Math.max(deepestEdge(a, b), deepestEdge(b, a));
  return byEdge > 0 ? byEdge : deepestPoint(a, b);
}

/** The gap between two regions, mm; where they overlap, minus the depth. */
export function signedGap(a: Outline, b: Outline): number {
  const { gap } = gapBetween(a, b);
  return gap > 0 ? gap : 0 - overlapDepth(a, b);
}

function deepestEdge(of: Outline, inside: Outline): number {
  let most = 0;
  for (const loop of boundaryOf(of))
    for (const piece of loop)
      most = Math.max(
        most,
        greatestAlong(piece, (point) => depthIn(inside, point), most),
      );
  return most;
}

function deepestPoint(a: Outline, b: Outline): number {
  const { xs, ys } = interiorGrid(a, spacingFor(a, TRIED_INSIDE));
  let most = 0;
  for (let i = 0; i < xs.length; i++)
    most = Math.max(most, Math.min(depthIn(a, [xs[i], ys[i]]), depthIn(b, [xs[i], ys[i]])));
  return most;
}
