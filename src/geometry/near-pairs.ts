/**
 * Which of many outlines may stand nearer to one another than a given distance (mm): candidates by their bounding
 * rectangles through a packed R-tree, so that exact clearances are needed for neighbours only.
 */
import Flatbush from 'flatbush';
import { type Bounds, boundsOf } from './extent.ts';
import type { Outline } from './outline.ts';

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
  const index = new Flatbush(outlines.length);
  const bounds = outlines.map(boundsOf);
  for (const { minX, minY, maxX, maxY } of bounds) index.add(minX, minY, maxX, maxY);
  index.finish();
  const pairs: IndexPair[] = [];
  bounds.forEach((box, i) => {
    const reach = Math.max(0, distance) + ROUNDING * largest(box);
    const later = index.search(
      box.minX - reach,
      box.minY - reach,
      box.maxX + reach,
      box.maxY + reach,
      (j) => j > i,
    );
    for (const j of later.sort((a, b) => a - b)) pairs.push([i, j]);
  });
  return pairs;
}

const largest = ({ minX, minY, maxX, maxY }: Bounds): number =>
  Math.max(Math.abs(minX), Math.abs(minY), Math.abs(maxX), Math.abs(maxY));
