/**
 * The phase of the null of a surface under test, by following its normals back to the pattern: the surface point of a place of the pattern
 * by Newton's method on difference quotients. A spherical beam diverges from a focus in the air before the pattern. mm, waves at order 1.
 */
import type { Place } from './fermat.ts';
import { followedBack, type Sheet } from './surface-sheets.ts';

/** mm on the surface. */
const STEP = 1e-2;
const FOUND = 1e-10;

interface Bench {
  readonly wavelength: number;
  readonly focus: Place;
  readonly glass: { readonly thickness: number; readonly index: number } | undefined;
}

/** Φ, 0 at `zero`. `start`: a place of the surface, in its own x and y, somewhere in the middle of what is used. */
export function surfacePhase(
  sheet: Sheet,
  { wavelength, focus, glass }: Bench,
  start: readonly [number, number],
  zero: readonly [number, number],
): (x: number, y: number) => number {
  const waves = (px: number, py: number): number => {
    let [x, y] = start;
    for (let k = 0; k < 30; k++) {
      const on = (u: number, v: number) => followedBack(sheet, u, v, glass).on;
      const [at, right, up] = [on(x, y), on(x + STEP, y), on(x, y + STEP)];
      const [a, b] = [(right[0] - at[0]) / STEP, (up[0] - at[0]) / STEP];
      const [c, d] = [(right[1] - at[1]) / STEP, (up[1] - at[1]) / STEP];
      const [ex, ey] = [px - at[0], py - at[1]];
      if (Math.hypot(ex, ey) < FOUND) break;
      x += (d * ex - b * ey) / (a * d - b * c);
      y += (a * ey - c * ex) / (a * d - b * c);
    }
    const { on, path } = followedBack(sheet, x, y, glass);
    return (-path - Math.hypot(on[0] - focus[0], on[1] - focus[1], focus[2])) / wavelength;
  };
  const atZero = waves(...zero);
  return (x, y) => waves(x, y) - atZero;
}
