/**
 * Whether corners (mm) make a simple polygon, and the same corners counterclockwise. Edges are compared only where their
 * spans in x overlap; the orientation test is the sign of the cross product (M. de Berg et al., Computational Geometry).
 */
import { cross2, dot2, subtract2, type Vec2 } from '../geometry/vector.ts';

/** The corners counterclockwise; or why they are no simple polygon, with the indices of the corners concerned. */
export function simplePolygon(
  corners: readonly Vec2[],
): { readonly points: readonly Vec2[] } | { readonly fault: string; readonly at: number } {
  const count = corners.length;
  for (let i = 0; i < count; i++) {
    const [a, b, c] = [corners[i]!, corners[(i + 1) % count]!, corners[(i + 2) % count]!];
    const [along, onward] = [subtract2(b, a), subtract2(c, b)];
    const next = (i + 1) % count;
    if (along[0] === 0 && along[1] === 0) {
      return { fault: `corner ${next + 1} repeats corner ${i + 1}`, at: next };
    }
    if (cross2(along, onward) === 0 && dot2(along, onward) < 0) {
      return { fault: `the edge doubles back at corner ${next + 1}`, at: next };
    }
  }
  const crossing = firstCrossing(corners);
  if (crossing !== undefined) {
    const [i, j] = crossing;
    return { fault: `the edges from corner ${i + 1} and from corner ${j + 1} meet`, at: j };
  }
  return { points: signedArea(corners) > 0 ? corners : [...corners].reverse() };
}

/** Positive for a counterclockwise polygon, mm². */
function signedArea(corners: readonly Vec2[]): number {
  const origin = corners[0]!;
  let twice = 0;
  for (let i = 1; i + 1 < corners.length; i++) {
    twice += cross2(subtract2(corners[i]!, origin), subtract2(corners[i + 1]!, origin));
  }
  return twice / 2;
}

/** The first pair of edges found that share a point without being neighbours. */
function firstCrossing(corners: readonly Vec2[]): readonly [number, number] | undefined {
  const count = corners.length;
  const end = (i: number): Vec2 => corners[i + 1 === count ? 0 : i + 1]!;
  const leastX = (i: number): number => Math.min(corners[i]![0], end(i)[0]);
  const order = corners.map((_, i) => i).sort((i, j) => leastX(i) - leastX(j));
  // Bounds of the edges from left to right, in flat arrays: ten thousand edges have fifty million pairs at worst.
  const bound = (of: (a: number, b: number) => number, axis: 0 | 1): Float64Array =>
    Float64Array.from(order, (i) => of(corners[i]![axis], end(i)[axis]));
  const [left, right, low, high] = [
    bound(Math.min, 0),
    bound(Math.max, 0),
    bound(Math.min, 1),
    bound(Math.max, 1),
  ];
  for (let k = 0; k < count; k++) {
    for (let l = k + 1; l < count && left[l]! <= right[k]!; l++) {
      if (low[l]! > high[k]! || high[l]! < low[k]!) continue;
      const [i, j] = [order[k]!, order[l]!];
      const apart = Math.abs(i - j);
      if (apart === 1 || apart === count - 1) continue;
      if (meet(corners[i]!, end(i), corners[j]!, end(j))) return i < j ? [i, j] : [j, i];
    }
  }
  return undefined;
}

/** Whether the edges ab and cd, whose bounds overlap, share a point. */
function meet(a: Vec2, b: Vec2, c: Vec2, d: Vec2): boolean {
  const [ab, cd] = [subtract2(b, a), subtract2(d, c)];
  const [sideC, sideD] = [cross2(ab, subtract2(c, a)), cross2(ab, subtract2(d, a))];
  const [sideA, sideB] = [cross2(cd, subtract2(a, c)), cross2(cd, subtract2(b, c))];
  if (sideC === 0 && sideD === 0) {
    const from = dot2(subtract2(c, a), ab);
    const to = dot2(subtract2(d, a), ab);
    return Math.max(from, to) >= 0 && Math.min(from, to) <= dot2(ab, ab);
  }
  return sideC * sideD <= 0 && sideA * sideB <= 0;
}
