/**
 * What an evaluation of a figure leaves: heights at points of a disc, weighted, less the Zernike terms named, by normal equations and
 * Gauss's elimination. Shares no code with src/.
 */
import { inverse, product, transposed } from './equations.ts';
import type { Height } from './surface-sheets.ts';
import { zernike } from './zernike.ts';

export interface DiscPoint {
  /** On the surface, mm; on the unit disc; area on the surface that it stands for. */
  readonly x: number;
  readonly y: number;
  readonly u: number;
  readonly v: number;
  readonly area: number;
}

/** Middles of cells of a polar grid over the disc, each with the area of the sheet over it by its slopes. */
export function discPoints(
  height: Height,
  radius: number,
  centre: readonly [number, number] = [0, 0],
  rings = 24,
): readonly DiscPoint[] {
  const azimuths = 16;
  const h = 0.01;
  return Array.from({ length: rings * azimuths }, (_, k): DiscPoint => {
    const rho = Math.sqrt((Math.floor(k / azimuths) + 0.5) / rings);
    const theta = (2 * Math.PI * ((k % azimuths) + 0.5)) / azimuths;
    const [u, v] = [rho * Math.cos(theta), rho * Math.sin(theta)];
    const [x, y] = [centre[0] + radius * u, centre[1] + radius * v];
    const zx = (height(x + h, y) - height(x - h, y)) / (2 * h);
    const zy = (height(x, y + h) - height(x, y - h)) / (2 * h);
    return { x, y, u, v, area: Math.sqrt(1 + zx * zx + zy * zy) };
  });
}

/** Orders n, m of what is usually removed. */
export const PISTON_TILT_POWER = [
  [0, 0],
  [1, 1],
  [1, -1],
  [2, 0],
] as const;

/** Ready for many maps over the same points: heights to the rms that is left. */
export function evaluation(
  points: readonly DiscPoint[],
  removed: readonly (readonly [number, number])[] = PISTON_TILT_POWER,
): (heights: readonly number[]) => number {
  const whole = points.reduce((sum, { area }) => sum + area, 0);
  const columns = points.map(({ u, v }) => removed.map(([n, m]) => zernike(n, m, u, v)));
  const weighted = columns.map((row, k) => row.map((entry) => (entry * points[k]!.area) / whole));
  const solve = product(inverse(product(transposed(columns), weighted)), transposed(weighted));
  return (heights) => {
    const found = solve.map((row) => row.reduce((sum, entry, k) => sum + entry * heights[k]!, 0));
    const square = heights.reduce((sum, height, k) => {
      const left = height - columns[k]!.reduce((taken, entry, j) => taken + entry * found[j]!, 0);
      return sum + (left * left * points[k]!.area) / whole;
    }, 0);
    return Math.sqrt(square);
  };
}
