/**
 * What a camera sees of a hologram without biases, written down by hand: over each round patch a plane of the return's path. A reading is
 * positive along a sense where the path falls from the − edge to the + edge. Waves, mm, pixels.
 */
import type { Design } from '../../src/design/design.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';

/** Along the first sense of each patch, and along the second. */
export const FRINGES = [2.3, -1.4] as const;
const RADIUS = 6;

/** `side` pixels square, seen from the interferometer: x to the left, y up. NaN between the patches. */
export function planePath(design: Design, side: number): Float64Array {
  const diameter = design.beam.cameraDiameter;
  const path = new Float64Array(side * side).fill(Number.NaN);
  for (const patch of design.patches) {
    const directions = sensesOf(design, patch).map(({ direction: [x, y] }) => [x, y] as const);
    for (let k = 0; k < path.length; k++) {
      const x = (((side - 1) / 2 - (k % side)) * diameter) / side - patch.centre[0];
      const y = (((side - 1) / 2 - Math.floor(k / side)) * diameter) / side - patch.centre[1];
      if (Math.hypot(x, y) > RADIUS) continue;
      const along = (sense: 0 | 1): number => {
        const [dx, dy] = directions[sense]!;
        return (x * dx + y * dy) / Math.hypot(dx, dy) / (2 * RADIUS);
      };
      path[k] = 0.3 - FRINGES[0] * along(0) - FRINGES[1] * along(1);
    }
  }
  return path;
}
