/**
 * What ought to be read in a frame: how much more the return's path falls over a patch with its reference off than with it in its place, by
 * the meaning of a reading. Tilt from edge to edge along each sense, power from the middle to the edge (of a ring from the inner to the
 * outer), positive where the path falls along the sense, or outward. mm, waves. Shares no code with src/.
 */
import { type Asked, lineOf } from './designed-phase.ts';
import { fitted } from './equations.ts';
import type { PatchReturn } from './frame-return.ts';
import { gridIn, type Point, rangeOver, type Shape } from './outline-points.ts';
import { minus, normed, type Vector } from './ray.ts';

const GRID = 14;
type Waves = (x: number, y: number) => number;

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Tilt along ℓ̂ × û of a line, and the line; of a point along x made square to û, and û × that. */
export function axesOf(asked: Asked): readonly [Vector, Vector] {
  const ray = normed(minus(asked.target, [asked.centre[0], asked.centre[1], 0]));
  const line = lineOf(asked);
  if (line !== undefined) return [normed(cross(line, ray)), line];
  const first = normed([1 - ray[0] * ray[0], -ray[0] * ray[1], -ray[0] * ray[2]]);
  return [first, cross(ray, first)];
}

const widthAlong = (outline: Shape, [dx, dy]: Vector): number => {
  const [least, most] = rangeOver(outline, (x, y) => x * dx + y * dy);
  return most - least;
};

/** One a sense. */
export function patchTruth(asked: Asked, still: PatchReturn, moved: PatchReturn): readonly number[] {
  const places = gridIn(asked.outline, GRID);
  const [x0, y0] = asked.centre;
  const axes = axesOf(asked);
  const rows: number[][] = [];
  const rises: number[] = [];
  moved.branches.forEach((branch, k) => {
    const before = still.branches[k]!;
    for (const [x, y] of places) {
      if (!branch.comes(x, y) || !before.comes(x, y)) continue;
      const [p, q] = axes.map(([ex, ey]) => (x - x0) * ex + (y - y0) * ey) as [number, number];
      // The halves of a roof may differ by a piston.
      const halves = moved.branches.map((_, side) => (side === k ? 1 : 0));
      rows.push([...halves, p, q, p * p, p * q, q * q]);
      rises.push(branch.waves(x, y) - before.waves(x, y));
    }
  });
  if (rows.length < GRID) return [];
  const [byP, byQ, pp, , qq] = fitted(
    rows,
    rises.map((rise) => rise - rises[0]!),
  ).slice(moved.branches.length) as [number, number, number, number, number];
  const widths = axes.map((axis) => widthAlong(asked.outline, axis)) as [number, number];
  if (asked.lineAngle !== undefined) return [-byP * widths[0]];
  return [-byP * widths[0], -byQ * widths[1], -((pp + qq) / 2) * (Math.max(...widths) / 2) ** 2];
}

/** Of a ring, along x, along y, and outward. */
export function ringTruth(
  { centre, inner, outer }: Extract<Shape, { shape: 'ring' }>,
  still: Waves,
  moved: Waves,
): readonly number[] {
  const places = [inner, (inner + outer) / 2, outer].flatMap((radius) =>
    Array.from({ length: 24 }, (_, k): Point => {
      const angle = (Math.PI * k) / 12;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    }),
  );
  const rises = places.map(
    ([u, v]) => moved(centre[0] + u, centre[1] + v) - still(centre[0] + u, centre[1] + v),
  );
  const [, sx, sy, bend] = fitted(
    places.map(([u, v]) => [1, u, v, u * u + v * v]),
    rises.map((rise) => rise - rises[0]!),
  ) as [number, number, number, number];
  return [-sx * 2 * outer, -sy * 2 * outer, -bend * (outer ** 2 - inner ** 2)];
}
