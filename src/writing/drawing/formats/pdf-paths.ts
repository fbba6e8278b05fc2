/**
 * Circles and arcs as cubic Bézier curves, each of an eighth of a turn at most: with handles of 4/3·tan(θ/4) radii the curve leaves
 * the arc by less than 5e-6 of the radius (T. Goldapp, Comput. Aided Geom. Des. 8, 227 (1991), from memory; a test measures it). mm.
 */
import type { Vec2 } from '../../../geometry/vector.ts';

/** A start [x, y], or a curve's two handles and end [x1, y1, x2, y2, x3, y3]. */
export type PathStep = readonly number[];

const LONGEST = Math.PI / 4;

/** A whole circle, from its rightmost point counterclockwise; its start comes first. */
export function circlePath([x, y]: Vec2, radius: number): PathStep[] {
  return [[x + radius, y], ...curves([x, y], radius, 0, 2 * Math.PI)];
}

/** From one point to another along an arc of bulge tan(sweep/4), positive counterclockwise; without its start. */
export function arcPath(from: Vec2, to: Vec2, bulge: number): PathStep[] {
  const sweep = 4 * Math.atan(bulge);
  // the centre lies (1 − b²)/(4b) of the chord to its left
  const reach = (1 - bulge * bulge) / (4 * bulge);
  const centre: Vec2 = [
    (from[0] + to[0]) / 2 - reach * (to[1] - from[1]),
    (from[1] + to[1]) / 2 + reach * (to[0] - from[0]),
  ];
  const radius = Math.hypot(from[0] - centre[0], from[1] - centre[1]);
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const steps = curves(centre, radius, start, sweep);
  const [x1, y1, x2, y2] = steps.at(-1)! as [number, number, number, number];
  return [...steps.slice(0, -1), [x1, y1, x2, y2, ...to]];
}

function curves([x, y]: Vec2, radius: number, start: number, sweep: number): PathStep[] {
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / LONGEST - 1e-9));
  const turn = sweep / count;
  const handle = (4 / 3) * Math.tan(turn / 4);
  return Array.from({ length: count }, (_, k) => {
    const [a, b] = [start + k * turn, start + (k + 1) * turn];
    const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
    return [
      x + radius * (ca - handle * sa),
      y + radius * (sa + handle * ca),
      x + radius * (cb + handle * sb),
      y + radius * (sb - handle * cb),
      x + radius * cb,
      y + radius * sb,
    ];
  });
}
