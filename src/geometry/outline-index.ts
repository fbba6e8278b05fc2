/**
 * Which of many outlines stand near a place, or near one another, by their bounding rectangles through a packed R-tree, so that exact
 * answers are needed for neighbours only. mm.
 */
import Flatbush from 'flatbush';
import { contains } from './contains.ts';
import { boundsOf } from './extent.ts';
import type { Outline } from './outline.ts';
import type { Vec2 } from './vector.ts';

/** Index pairs [i, j], i < j. */
type IndexPair = readonly [number, number];

/** Allowance for the rounding of the bounds, relative to their size; a candidate too many does no harm. */
const ROUNDING = 1e-12;

/**
 * Every pair that can be nearer than or as near as `distance`, and some that are not (their rectangles are); in the
 * order of i, then of j.
 */
export function nearPairs(outlines: readonly Outline[], distance: number): readonly IndexPair[] {
  if (outlines.length < 2) return [];
  const index = indexOf(outlines);
  return outlines.flatMap((outline, i): IndexPair[] => {
    const { minX, minY, maxX, maxY } = boundsOf(outline);
    const size = Math.max(Math.abs(minX), Math.abs(minY), Math.abs(maxX), Math.abs(maxY));
    const reach = Math.max(0, distance) + ROUNDING * size;
    const later = index.search(minX - reach, minY - reach, maxX + reach, maxY + reach, (j) => j > i);
    return later.sort((a, b) => a - b).map((j) => [i, j]);
  });
}

/** Answers with the index of the first outline that contains a point; undefined where none does. */
export function outlineFinder(outlines: readonly Outline[]): (point: Vec2) => number | undefined {
  if (outlines.length === 0) return () => undefined;
  const index = indexOf(outlines);
  return (point) => {
    const near = index.search(point[0], point[1], point[0], point[1]);
    const holding = near.filter((k) => contains(outlines[k]!, point));
    return holding.length === 0 ? undefined : Math.min(...holding);
  };
}

function indexOf(outlines: readonly Outline[]): Flatbush {
  const index = new Flatbush(outlines.length);
  for (const { minX, minY, maxX, maxY } of outlines.map(boundsOf)) index.add(minX, minY, maxX, maxY);
  index.finish();
  return index;
}
