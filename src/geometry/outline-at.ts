/**
 * Which of many outlines a point lies in: by their bounding rectangles through a packed R-tree, so that a point is tried against
 * its neighbours only. mm.
 */
import Flatbush from 'flatbush';
import { contains } from './contains.ts';
import { boundsOf } from './extent.ts';
import type { Outline } from './outline.ts';
import type { Vec2 } from './vector.ts';

/** Answers with the index of the first outline that contains a point; undefined where none does. */
export function outlineFinder(outlines: readonly Outline[]): (point: Vec2) => number | undefined {
  if (outlines.length === 0) return () => undefined;
  const index = new Flatbush(outlines.length);
  for (const { minX, minY, maxX, maxY } of outlines.map(boundsOf)) index.add(minX, minY, maxX, maxY);
  index.finish();
  return (point) => {
    const near = index.search(point[0], point[1], point[0], point[1]);
    const holding = near.filter((k) => contains(outlines[k]!, point));
    return holding.length === 0 ? undefined : Math.min(...holding);
  };
}
