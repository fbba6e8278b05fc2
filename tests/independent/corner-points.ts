/** Whether a point lies in polygons, and points of boxes, for marks on the glass. mm. Shares no code with src/. */
import type { Point } from './outline-points.ts';

/** By crossings of a ray along +x. */
export function coveredBy(polygons: readonly (readonly Point[])[], [x, y]: Point): boolean {
  return polygons.some((points) => {
    let inside = false;
    for (const [k, [u, v]] of points.entries()) {
      const [p, q] = points[(k + 1) % points.length]!;
      if (v > y !== q > y && x < u + ((y - v) * (p - u)) / (q - v)) inside = !inside;
    }
    return inside;
  });
}

/** The eight ways to lay a square blank down: four turns, each as it is and turned over. */
export const PLACEMENTS: readonly ((at: Point) => Point)[] = [
  ([x, y]) => [x, y],
  ([x, y]) => [-y, x],
  ([x, y]) => [-x, -y],
  ([x, y]) => [y, -x],
  ([x, y]) => [-x, y],
  ([x, y]) => [y, x],
  ([x, y]) => [x, -y],
  ([x, y]) => [-y, -x],
];
