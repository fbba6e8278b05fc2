/** A closed polygon widened all round, mm: each corner goes out along its mitre. For the smooth edges that footprints have. */
import { twiceSignedArea } from './boundary.ts';
import type { Vec2 } from './vector.ts';

/** No corner goes out farther than this many times the margin: a sharp one would run away. */
const MOST_MITRE = 4;

/** Counterclockwise, whichever way round `points` go; no point may stand twice in a row. */
export function widened(points: readonly Vec2[], by: number): readonly Vec2[] {
  const round = twiceSignedArea(points) >= 0 ? points : points.toReversed();
  const n = round.length;
  const outward = (k: number): Vec2 => {
    const [a, b] = [round[k % n]!, round[(k + 1) % n]!];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const size = Math.hypot(dx, dy);
    return [dy / size, -dx / size];
  };
  return round.map(([x, y], k): Vec2 => {
    const [before, after] = [outward(k + n - 1), outward(k)];
    const [sx, sy] = [before[0] + after[0], before[1] + after[1]];
    const square = sx * sx + sy * sy;
    // The mitre of two unit normals u and v is (u + v)/(1 + u·v), and |u + v|² = 2(1 + u·v).
    const factor = Math.min(2 / square, MOST_MITRE / Math.sqrt(square));
    return [x + by * factor * sx, y + by * factor * sy];
  });
}
