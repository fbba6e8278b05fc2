/**
 * Points on either side of the sides of written polygons, at random, and how often the polygons cover each, by crossings of a ray with
 * their sides. mm. Shares no code with src/.
 */
import type { Corner } from './gdsii.ts';

export interface BesideEdge {
  readonly at: Corner;
  /** Of the polygons: 1 inside one of them, 0 outside all. */
  readonly times: number;
}

type Box = readonly [minX: number, maxX: number, minY: number, maxY: number];

/** For `count` sides, a point at `distance` from somewhere along it, left and right. `uniform` draws from 0 to 1. */
export function besideEdges(
  polygons: readonly (readonly Corner[])[],
  {
    count,
    distance,
    uniform,
  }: { readonly count: number; readonly distance: number; readonly uniform: () => number },
): BesideEdge[] {
  const boxes = polygons.map((points): Box => {
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  });
  const times = ([x, y]: Corner): number =>
    polygons.filter((points, k) => {
      const [minX, maxX, minY, maxY] = boxes[k]!;
      return x >= minX && x <= maxX && y >= minY && y <= maxY && holds(points, [x, y]);
    }).length;
  const found: BesideEdge[] = [];
  while (found.length < 2 * count) {
    const points = polygons[Math.floor(uniform() * polygons.length)]!;
    const k = Math.floor(uniform() * points.length);
    const [a, b] = [points[k]!, points[(k + 1) % points.length]!];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(dx, dy);
    if (length < distance) continue;
    const share = uniform();
    for (const side of [distance, -distance]) {
      const at: Corner = [a[0] + share * dx - (side * dy) / length, a[1] + share * dy + (side * dx) / length];
      found.push({ at, times: times(at) });
    }
  }
  return found;
}

function holds(points: readonly Corner[], [x, y]: Corner): boolean {
  let inside = false;
  points.forEach(([x1, y1], i) => {
    const [x0, y0] = points[(i + points.length - 1) % points.length]!;
    if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) inside = !inside;
  });
  return inside;
}
