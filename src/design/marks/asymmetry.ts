/** How well crosses tell a turned or mirrored blank. mm. */
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { distance2, type Vec2 } from '../../geometry/vector.ts';

/** Quarter turns and mirrors but for leaving it as it is: where (x, y) goes. */
const OTHER_PLACEMENTS: readonly ((at: Vec2) => Vec2)[] = [
  ([x, y]) => [-y, x],
  ([x, y]) => [-x, -y],
  ([x, y]) => [y, -x],
  ([x, y]) => [-x, y],
  ([x, y]) => [x, -y],
  ([x, y]) => [y, x],
  ([x, y]) => [-y, -x],
];

/** Over the seven other placements of the blank about its middle, the least that its worst cross is off every cross of this one. */
export function asymmetryOf(places: readonly Vec2[], blank: Outline): number {
  const { minX, maxX, minY, maxY } = boundsOf(blank);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const own = places.map((at): Vec2 => [at[0] - x, at[1] - y]);
  const off = (at: Vec2): number => Math.min(...own.map((other) => distance2(at, other)));
  return Math.min(...OTHER_PLACEMENTS.map((turned) => Math.max(...own.map((at) => off(turned(at))))));
}
