/**
 * What an operator counts in a picture with the reference moved: fringes beyond those in place, positive for a move along + the sensed
 * direction, W falling along it. Fitted to the independent trace; tilts from edge to edge, power from the middle to the edge.
 */
import { Matrix, solve } from 'ml-matrix';
import type { Vector } from '../../independent/ray.ts';
import type { Place2 } from '../../independent/round-trip.ts';
import { seenOf } from './operator-picture.ts';
import { isInside, type PatchOnBench } from './operator-setup.ts';

/** One for each of the patch's `senses`, as the report has them. */
export function countedReadings(
  bench: PatchOnBench,
  senses: readonly Vector[],
  moved: Vector,
): readonly number[] {
  const { setup, corners, widest } = bench;
  const [before, after] = [seenOf(bench), seenOf(bench, moved)];
  const tilts = senses.length === 3 ? senses.slice(0, 2) : [senses[0]!, crossing(senses[0]!)];
  const runs = ([x, y]: Place2): readonly number[] =>
    tilts.map((sense) => (x - setup.centre[0]) * sense[0] + (y - setup.centre[1]) * sense[1]);
  const rows: number[][] = [];
  const added: number[] = [];
  for (const at of lattice(corners, widest)) {
    const change = after.waves(...at) - before.waves(...at);
    if (Number.isNaN(change)) continue;
    const [u, v] = runs(at) as [number, number];
    rows.push([1, u, v, u * u, u * v, v * v]);
    added.push(change);
  }
  const fit = solve(new Matrix(rows), Matrix.columnVector(added), true).to1DArray();
  const extents = tilts.map((_, k) => {
    const along = corners.map((corner) => runs(corner)[k]!);
    return Math.max(...along) - Math.min(...along);
  });
  const readings = extents.map((extent, k) => -fit[1 + k]! * extent);
  if (senses.length < 3) return readings.slice(0, 1);
  const half = Math.max(...extents) / 2;
  return [...readings, (-(fit[3]! + fit[5]!) / 2) * half * half];
}

/** Square to it in the pattern: what a line focus's other direction of fitting is. */
const crossing = ([x, y]: Vector): Vector => [-y, x, 0];

/** Places all over the patch. */
function lattice(corners: readonly Place2[], widest: number): readonly Place2[] {
  const [xs, ys] = [0, 1].map((k) => corners.map((corner) => corner[k]!)) as [number[], number[]];
  const [x0, y0] = [Math.min(...xs), Math.min(...ys)];
  const at = (k: number): number => ((k + 0.5) / SIDE) * widest;
  return Array.from(
    { length: SIDE * SIDE },
    (_, k): Place2 => [x0 + at(k % SIDE), y0 + at(Math.floor(k / SIDE))],
  ).filter((place) => isInside(corners, place));
}

const SIDE = 8;

/** T + θ × r. */
export function carried(translation: Vector, [rx, ry, rz]: Vector, [x, y, z]: Vector): Vector {
  return [
    translation[0] + ry * z - rz * y,
    translation[1] + rz * x - rx * z,
    translation[2] + rx * y - ry * x,
  ];
}
