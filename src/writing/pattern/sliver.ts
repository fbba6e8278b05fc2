/**
 * Polygons that are nowhere as wide as the least feature: slivers, which a patch's edge leaves of a written zone. A width here is the
 * diameter of the largest circle inside. The pointed ends that a slanting edge leaves of a wide zone are none.
 *
 * With A the area of a simply connected polygon, P its perimeter and r the radius of that circle, A ≤ P·r − πr² (Bonnesen's
 * inequality for the inradius, from memory), so that 2A/P is less than the width: most polygons are cleared by that alone. In the rest
 * a circle of the width is laid against the edge at places evenly spaced along it: where a larger one fits, so does this one.
 */

/** What the edges of a line of just the least feature may be nearer together: 5 nm each, mm. */
const SLACK = 1e-5;
/** Below this width, mm, a polygon is a sliver. */
export const sliverWidth = (minFeature: number): number => minFeature - SLACK;

/** Places along the edge, at which circles are tried; the middles of the long sides of a simple polygon besides. */
const PLACES = 96;
/** A circle that fits but for this part of its radius counts as fitting: the places are that far apart in a sliver's taper. */
const SLACK_OF_PLACES = 0.01;

/** `points`: x, y by turns, counterclockwise; `width` in their unit. */
export function isSliver(points: Int32Array | Float64Array, count: number, width: number): boolean {
  const x0 = points[0]!;
  const y0 = points[1]!;
  let perimeter = 0;
  let twiceArea = 0;
  let px = points[2 * count - 2]! - x0;
  let py = points[2 * count - 1]! - y0;
  for (let k = 0; k < 2 * count; k += 2) {
    const qx = points[k]! - x0;
    const qy = points[k + 1]! - y0;
    perimeter += Math.sqrt((qx - px) * (qx - px) + (qy - py) * (qy - py));
    twiceArea += px * qy - qx * py;
    px = qx;
    py = qy;
  }
  return twiceArea > 0 && twiceArea < width * perimeter && !holdsCircle(points, count, perimeter, width / 2);
}

function holdsCircle(
  points: Int32Array | Float64Array,
  count: number,
  perimeter: number,
  radius: number,
): boolean {
  const enough = radius * (1 - SLACK_OF_PLACES);
  const apart = perimeter / PLACES;
  // Half a step before the first place.
  let ahead = apart / 2;
  for (let i = 0; i < count; i++) {
    const j = i + 1 === count ? 0 : i + 1;
    const x = points[2 * i]!;
    const y = points[2 * i + 1]!;
    const dx = points[2 * j]! - x;
    const dy = points[2 * j + 1]! - y;
    const length = Math.sqrt(dx * dx + dy * dy);
    const fitsAt = (along: number): boolean => {
      const ux = dx / length;
      const uy = dy / length;
      return depthAt(points, count, x + along * ux - radius * uy, y + along * uy + radius * ux) >= enough;
    };
    if (count < PLACES && length > radius && fitsAt(length / 2)) return true;
    for (; ahead < length; ahead += apart) if (fitsAt(ahead)) return true;
    ahead -= length;
  }
  return false;
}

/** Distance from the nearest side; negative outside. */
function depthAt(points: Int32Array | Float64Array, count: number, x: number, y: number): number {
  let inside = false;
  let nearest = Infinity;
  let px = points[2 * count - 2]! - x;
  let py = points[2 * count - 1]! - y;
  for (let k = 0; k < 2 * count; k += 2) {
    const qx = points[k]! - x;
    const qy = points[k + 1]! - y;
    const dx = qx - px;
    const dy = qy - py;
    if (py > 0 !== qy > 0 && px - (py * dx) / dy > 0) inside = !inside;
    const square = dx * dx + dy * dy;
    const along = square > 0 ? Math.min(1, Math.max(0, -(px * dx + py * dy) / square)) : 0;
    const nx = px + along * dx;
    const ny = py + along * dy;
    nearest = Math.min(nearest, nx * nx + ny * ny);
    px = qx;
    py = qy;
  }
  return inside ? Math.sqrt(nearest) : -Math.sqrt(nearest);
}
