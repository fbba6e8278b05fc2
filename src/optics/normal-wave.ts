/**
 * The wave that meets a surface square on wherever its normals lead, without an aperture that says which part of the surface is meant: that
 * which goes over, without a fold, into the surroundings of a known place. Substrate frame, mm.
 *
 * The surface's coordinates are found node by node of a grid on the pattern, each from its neighbour toward the known place, so that the
 * result at a point does not depend on what was asked before.
 */
import type { Vec2 } from '../geometry/vector.ts';
import { type NormalsOf, type NullWave, waveOfNormals } from './null-wave.ts';

/** Between nodes, mm: a small part of the distances to centres of curvature. */
const STEP = 2;
/** No pattern reaches farther than this from where the known place shows, in steps. */
const MOST_STEPS = 2000;
const NOWHERE: Vec2 = [Number.NaN, Number.NaN];

/** E is not a number where no normal of that part of the surface passes; nowhere a number if none of `places` has a normal. */
export function normalWave(normals: NormalsOf, places: readonly Vec2[]): NullWave {
  const known = places.map((on) => ({ on, at: normals.from(...on)?.at })).find(({ at }) => at !== undefined);
  const [x0, y0] = known?.at ?? NOWHERE;
  const nodes = new Map<number, Vec2>([[0, known?.on ?? NOWHERE]]);
  const key = (i: number, j: number): number => i * (2 * MOST_STEPS + 1) + j;
  const nodeAt = (column: number, row: number): Vec2 => {
    let [i, j] = [column, row];
    const way: [number, number][] = [];
    while (!nodes.has(key(i, j))) {
      way.push([i, j]);
      if (Math.abs(i) >= Math.abs(j)) i -= Math.sign(i);
      else j -= Math.sign(j);
    }
    let on = nodes.get(key(i, j))!;
    for (const [k, l] of way.reverse()) {
      on = normals.coordinatesOf(x0 + k * STEP, y0 + l * STEP, on) ?? NOWHERE;
      nodes.set(key(k, l), on);
    }
    return on;
  };
  // Points come line by line: most lie in the cell of the one before.
  let [column, row] = [Number.NaN, Number.NaN];
  let corners: readonly Vec2[] = [];
  return waveOfNormals(normals, (x, y) => {
    const [across, up] = [(x - x0) / STEP, (y - y0) / STEP];
    const [i, j] = [Math.floor(across), Math.floor(up)];
    if (!(Math.max(Math.abs(i), Math.abs(j)) < MOST_STEPS)) return NOWHERE;
    if (i !== column || j !== row) {
      corners = [nodeAt(i, j), nodeAt(i + 1, j), nodeAt(i, j + 1), nodeAt(i + 1, j + 1)];
      [column, row] = [i, j];
    }
    const [a, b] = [across - i, up - j];
    const between = (axis: 0 | 1): number =>
      (1 - b) * ((1 - a) * corners[0]![axis] + a * corners[1]![axis]) +
      b * ((1 - a) * corners[2]![axis] + a * corners[3]![axis]);
    const guess: Vec2 = [between(0), between(1)];
    return Number.isNaN(guess[0]) ? (corners.find(([u]) => !Number.isNaN(u)) ?? NOWHERE) : guess;
  });
}
