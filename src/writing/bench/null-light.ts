/**
 * The main pattern's light on the bench: along the normals of the surface under test, the same way out and back, and the profile of that
 * surface in a view. Substrate frame, mm.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { covers } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { placeToParent, rotateBack } from '../../geometry/frame.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import { add, scale, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import type { Footing } from '../../optics/null-wave.ts';
import type { Projection } from './projection.ts';

type Path3 = readonly Vec3[];

/** Points of the aperture's edge that light is drawn from, and of a profile. */
const EDGE_POINTS = 72;
const PROFILE_POINTS = 96;

/** From the pattern to the surface under test, from the edge of its aperture all round. */
export function edgeNormals({ glass }: Design, { test, normals }: MainPattern): readonly Path3[] {
  const height = glass.side === 'after' ? glass.thickness : 0;
  const { xs, ys } = boundaryPoints(test.aperture, EDGE_POINTS);
  return Array.from(xs, (x, k) => normals.from(x, ys[k]!))
    .filter((footing) => footing !== undefined)
    .map(({ at, foot, normal }: Footing) => {
      const start: Vec3 = [at[0], at[1], 0];
      return height === 0
        ? [start, foot]
        : [start, add(foot, scale(normal, (height - foot[2]) / normal[2])), foot];
    });
}

/** The cut through the surface along the view's upright axis, through the middle of its aperture; of a ring one piece on either side. */
export function profileOf({ test, surface }: MainPattern, { up }: Projection): readonly Path3[] {
  const [u, v] = rotateBack(surface.frame.rotation, up === 'x' ? [1, 0, 0] : [0, 1, 0]);
  const size = Math.sqrt(u * u + v * v);
  const { minX, maxX, minY, maxY } = boundsOf(test.aperture);
  const middle: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  const half = Math.sqrt((maxX - minX) ** 2 + (maxY - minY) ** 2) / 2;
  const at = (run: number): Vec2 => [middle[0] + (run * u) / size, middle[1] + (run * v) / size];
  const isIn = (run: number): boolean => covers(test.aperture, at(run));
  const values = new Float64Array(6);
  const step = (2 * half) / PROFILE_POINTS;
  const runs = Array.from({ length: PROFILE_POINTS + 1 }, (_, k) => k * step - half);
  const pieces: number[][] = [];
  for (const [k, run] of runs.entries()) {
    const [was, is] = [k > 0 && isIn(runs[k - 1]!), isIn(run)];
    if (is && !was) pieces.push([edgeOf(isIn, run, run - step)]);
    if (is) pieces.at(-1)!.push(run);
    if (was && !is) pieces.at(-1)!.push(edgeOf(isIn, run - step, run));
  }
  return pieces.map((piece) =>
    piece.flatMap((run) => {
      const [x, y] = at(run);
      return surface.sag.at(x, y, values) ? [placeToParent(surface.frame, [x, y, values[0]!])] : [];
    }),
  );
}

/** Halvings of a step until an edge is found. */
const HALVINGS = 20;

/** The last run inside, on the way from one inside to one outside. */
function edgeOf(isIn: (run: number) => boolean, inside: number, outside: number): number {
  let [near, far] = [inside, outside];
  for (let k = 0; k < HALVINGS; k++) {
    const half = (near + far) / 2;
    if (isIn(half)) near = half;
    else far = half;
  }
  return near;
}
