/**
 * What an operator reads of a patch, in fringes, by rays traced out and home: tilt from edge to edge along each direction that is sensed,
 * and of a point focus the power from the middle to the edge; and how each changes with what is off. Air only. mm, waves.
 */
import { type Asked, designedPhase, lineOf, type Surroundings } from './designed-phase.ts';
import { fitted } from './equations.ts';
import { gridIn, rangeOver } from './outline-points.ts';
import { minus, normed, size, type Vector } from './ray.ts';
import { offBall, offCube, returned } from './returned-ray.ts';

export interface ReadPatch extends Asked {
  /** Of the ball; undefined: a corner cube. */
  readonly radius?: number;
}

/** What may be off: the reference by a move, the wavelength and the pattern's size by a part of themselves, the pattern by a shift. */
export interface Off {
  readonly move?: Vector;
  readonly wavelength?: number;
  readonly growth?: number;
  readonly shift?: readonly [number, number];
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** The directions square to the chief ray that a patch is read along, and for a line focus the line: it is not read. */
function axesOf(patch: ReadPatch): { readonly read: readonly Vector[]; readonly beside: readonly Vector[] } {
  const ray = normed(minus(patch.target, [patch.centre[0], patch.centre[1], 0]));
  const line = lineOf(patch);
  if (line !== undefined) return { read: [normed(cross(line, ray))], beside: [line] };
  const first = normed([1 - ray[0] * ray[0], -ray[0] * ray[1], -ray[0] * ray[2]]);
  return { read: [first, cross(ray, first)], beside: [] };
}

/** Fringes for what is off. */
export function reader(around: Surroundings & { readonly focus: Vector }, patch: ReadPatch) {
  const { read, beside } = axesOf(patch);
  const [x0, y0] = patch.centre;
  const along = ([ex, ey]: Vector, x: number, y: number): number => (x - x0) * ex + (y - y0) * ey;
  const widths = read.map((axis) => {
    const [least, most] = rangeOver(patch.outline, (x, y) => along(axis, x, y));
    return most - least;
  });
  const phase = designedPhase(around, patch);
  const grid = gridIn(patch.outline, 12);
  return (off: Off): number[] => {
    const { move = [0, 0, 0], wavelength = 0, growth = 0, shift = [0, 0] } = off;
    const pattern = {
      wavelength: around.wavelength * (1 + wavelength),
      order: patch.order ?? 1,
      phase: (x: number, y: number) => phase((x - shift[0]) / (1 + growth), (y - shift[1]) / (1 + growth)),
      incident: (x: number, y: number) => size(minus([x, y, 0], around.focus)),
    };
    const place: Vector = [patch.target[0] + move[0], patch.target[1] + move[1], patch.target[2] + move[2]];
    const bounce = patch.radius === undefined ? offCube(place) : offBall(place, patch.radius);
    const rays = grid.flatMap(([x, y]) => returned(pattern, bounce, x, y) ?? []);
    const [first, second] = [...read, ...beside] as [Vector, Vector];
    const rows = rays.map(({ x, y }) => {
      const [u, v] = [along(first, x, y), along(second, x, y)];
      return [1, u, v, u * u, u * v, v * v];
    });
    const waves = rays.map((ray) => ray.waves);
    const [, byFirst, bySecond, uu, , vv] = fitted(rows, waves) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    if (beside.length > 0) return [byFirst * widths[0]!];
    const radius = Math.max(...widths) / 2;
    return [byFirst * widths[0]!, bySecond * widths[1]!, ((uu + vv) / 2) * radius * radius];
  };
}

/** Fringes of each reading for one unit of what is off: central differences with a step of it. */
export function change(read: (off: Off) => number[], off: (size: number) => Off, step: number): number[] {
  const [ahead, behind] = [read(off(step)), read(off(-step))];
  return ahead.map((fringes, k) => (fringes - behind[k]!) / (2 * step));
}

/** Of a reference's move along x, y and z: a row of three for each reading. */
export function changesByMove(read: (off: Off) => number[]): number[][] {
  const byAxis = [0, 1, 2].map((axis) =>
    change(read, (by) => ({ move: [0, 1, 2].map((k) => (k === axis ? by : 0)) as unknown as Vector }), 1e-4),
  );
  return byAxis[0]!.map((_, k) => byAxis.map((column) => column[k]!));
}
