/**
 * Surfaces under test by their formulas as printed, a point of them square on by difference quotients, and the light followed from there
 * back to the pattern by vector Snell's law. mm, radians. Shares no code with src/.
 */
import { minus, normed, refract, toPlane, type Vector } from './ray.ts';

/** Height over a surface's own x and y. */
export type Height = (x: number, y: number) => number;

/** ISO 10110-12: z = h²/(R(1 + √(1 − (1 + κ)h²/R²))) + Σ A_n hⁿ. */
export const isoAsphere =
  (radius: number, conic: number, terms: Readonly<Record<number, number>> = {}): Height =>
  (x, y) => {
    const h = Math.hypot(x, y);
    const base = (h * h) / (radius * (1 + Math.sqrt(1 - ((1 + conic) * h * h) / (radius * radius))));
    return Object.entries(terms).reduce((z, [n, a]) => z + a * h ** Number(n), base);
  };

/** A surface that stands somewhere: its own point (x, y, z) in the substrate frame. */
export interface Sheet {
  readonly height: Height;
  readonly toSubstrate: (own: Vector) => Vector;
}

const STEP = 0.05;

/** Slope by a quotient of the fourth order. */
const slope = (f: (h: number) => number): number =>
  (8 * (f(STEP) - f(-STEP)) - (f(2 * STEP) - f(-2 * STEP))) / (12 * STEP);

/** The point of the sheet over its own x and y, and the unit normal that goes back toward −z. */
export function squareOn({ height, toSubstrate }: Sheet, x: number, y: number): { at: Vector; back: Vector } {
  const zx = slope((h) => height(x + h, y));
  const zy = slope((h) => height(x, y + h));
  const at = toSubstrate([x, y, height(x, y)]);
  const tip = toSubstrate([x - zx, y - zy, height(x, y) + 1]);
  const normal = normed(minus(tip, at));
  return { at, back: normal[2] < 0 ? normal : [-normal[0], -normal[1], -normal[2]] };
}

/** Where the light that meets the sheet square on there left the pattern, and its optical path from the pattern. */
export function followedBack(
  sheet: Sheet,
  x: number,
  y: number,
  glass: { readonly thickness: number; readonly index: number } | undefined,
): {
  readonly on: readonly [number, number];
  readonly path: number;
  readonly at: Vector;
  readonly back: Vector;
} {
  const { at, back } = squareOn(sheet, x, y);
  const out = toPlane(at, back, glass?.thickness ?? 0);
  if (glass === undefined) return { on: [out.at[0], out.at[1]], path: out.way, at, back };
  const inside = refract(back, 1, glass.index);
  const down = toPlane(out.at, inside, 0);
  return { on: [down.at[0], down.at[1]], path: out.way + glass.index * down.way, at, back };
}
