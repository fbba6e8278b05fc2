/**
 * Polygons that are nowhere as wide as the least feature: slivers, which a patch's edge leaves of a written zone. A width here is the
 * diameter of the largest circle inside. The pointed ends that a slanting edge leaves of a wide zone are none.
 *
 * With A the area of a simply connected polygon, P its perimeter and r the radius of that circle, A ≤ P·r − πr² (Bonnesen's
 * inequality for the inradius, from memory), so that 2A/P is less than the width: most polygons are cleared by that alone. For the rest
 * circles are tried, first beside the middles of sides, then in squares halved until none can hold a centre.
 */

/** What the edges of a line of just the least feature may be nearer together: 5 nm each, mm. */
const SLACK = 1e-5;
/** Below this width, mm, a polygon is a sliver. */
export const sliverWidth = (minFeature: number): number => minFeature - SLACK;

/** Sides beside which a circle is tried first, at the most. */
const SIDES_TRIED = 24;
/** Squares smaller than this part of the width are not halved: a circle that fits only by less counts as none. */
const FINEST = 0.01;
/** Squares looked at, at the most: past them the polygon counts as a sliver. */
const MOST_SQUARES = 50_000;

/** `points`: x, y by turns, counterclockwise; `width` in their unit. */
export function isSliver(points: Int32Array | Float64Array, count: number, width: number): boolean {
  const [x0, y0] = [points[0]!, points[1]!];
  let [perimeter, twiceArea] = [0, 0];
  let [px, py] = [points[2 * count - 2]! - x0, points[2 * count - 1]! - y0];
  for (let k = 0; k < 2 * count; k += 2) {
    const qx = points[k]! - x0;
    const qy = points[k + 1]! - y0;
    perimeter += Math.sqrt((qx - px) * (qx - px) + (qy - py) * (qy - py));
    twiceArea += px * qy - qx * py;
    px = qx;
    py = qy;
  }
  return twiceArea > 0 && twiceArea < width * perimeter && !holdsCircle(points, count, width / 2);
}

function holdsCircle(points: Int32Array | Float64Array, count: number, radius: number): boolean {
  const enough = radius * (1 - FINEST);
  const step = Math.max(1, Math.floor(count / SIDES_TRIED));
  for (let i = 0; i < count; i += step) {
    const j = (i + 1) % count;
    const [x, y] = [points[2 * i]!, points[2 * i + 1]!];
    const [dx, dy] = [points[2 * j]! - x, points[2 * j + 1]! - y];
    const length = Math.hypot(dx, dy);
    if (!(length > 0)) continue;
    const depth = depthAt(
      points,
      count,
      x + dx / 2 - (radius * dy) / length,
      y + dy / 2 + (radius * dx) / length,
    );
    if (depth >= enough) return true;
  }
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let k = 0; k < 2 * count; k += 2) {
    left = Math.min(left, points[k]!);
    right = Math.max(right, points[k]!);
    bottom = Math.min(bottom, points[k + 1]!);
    top = Math.max(top, points[k + 1]!);
  }
  if (Math.min(right - left, top - bottom) < 2 * enough) return false;
  const half = Math.max(right - left, top - bottom) / 2;
  const squares = [[(left + right) / 2, (bottom + top) / 2, half] as const];
  for (let looked = 0; squares.length > 0 && looked < MOST_SQUARES; looked++) {
    const [x, y, h] = squares.pop()!;
    const depth = depthAt(points, count, x, y);
    if (depth >= enough) return true;
    if (depth + h * Math.SQRT2 < radius || h < FINEST * radius) continue;
    for (const sx of [-0.5, 0.5]) for (const sy of [-0.5, 0.5]) squares.push([x + sx * h, y + sy * h, h / 2]);
  }
  return false;
}

/** Distance from the nearest side; negative outside. */
function depthAt(points: Int32Array | Float64Array, count: number, x: number, y: number): number {
  let inside = false;
  let nearest = Infinity;
  let [px, py] = [points[2 * count - 2]! - x, points[2 * count - 1]! - y];
  for (let k = 0; k < 2 * count; k += 2) {
    const [qx, qy] = [points[k]! - x, points[k + 1]! - y];
    const [dx, dy] = [qx - px, qy - py];
    if (py > 0 !== qy > 0 && px - (py * dx) / dy > 0) inside = !inside;
    const square = dx * dx + dy * dy;
    const along = square > 0 ? Math.min(1, Math.max(0, -(px * dx + py * dy) / square)) : 0;
    const [nx, ny] = [px + along * dx, py + along * dy];
    nearest = Math.min(nearest, nx * nx + ny * ny);
    px = qx;
    py = qy;
  }
  return inside ? Math.sqrt(nearest) : -Math.sqrt(nearest);
}
