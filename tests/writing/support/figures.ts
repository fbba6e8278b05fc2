/** How figures are compared, and the points of a patch that they are sought at. */
import { expect } from 'vitest';
import type { PatchWords, Point } from '../../independent/scene.ts';
import { edgePolygons, isInside } from '../../independent/scene-outline.ts';

/** Relative agreement, for figures that one of the two sides has to first order or by sampling. */
export function within(found: number | null, wanted: number, part: number, what = ''): void {
  expect(found, what).not.toBeNull();
  expect(Math.abs(found! / wanted - 1), `${what}: ${found} for ${wanted}`).toBeLessThan(part);
}

export function closeTo(found: readonly number[], wanted: readonly number[], by = 1e-9): void {
  expect(found).toHaveLength(wanted.length);
  found.forEach((value, k) => {
    expect(Math.abs(value - wanted[k]!)).toBeLessThan(by);
  });
}

export const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/** Points over the patch, its edge among them. */
export function placesIn(patch: PatchWords, perSide = 24): Point[] {
  const edge = edgePolygons(patch).flat();
  const [xs, ys] = [edge.map(([x]) => x), edge.map(([, y]) => y)];
  const [left, bottom] = [Math.min(...xs), Math.min(...ys)];
  const inside = Array.from(
    { length: perSide * perSide },
    (_, k): Point => [
      left + (((k % perSide) + 0.5) / perSide) * range(xs),
      bottom + ((Math.floor(k / perSide) + 0.5) / perSide) * range(ys),
    ],
  ).filter((place) => isInside(patch, place));
  return [...inside, ...edge];
}
