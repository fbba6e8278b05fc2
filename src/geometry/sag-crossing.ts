/**
 * Where a straight line crosses a surface given by its sag, by Newton's method along the line, and how the surface bends there. mm, in the
 * sag's own frame.
 */
import type { Sag, SagValues } from './sag.ts';
import type { Vec3 } from './vector.ts';

/** A step this small against the lengths that it is the difference of is rounding. */
const SETTLED = 4e-16;
/** Quadratic from the plane through the vertex, which is near. */
const MOST_STEPS = 40;
/** Where the surface has no such place, its height is asked for so much nearer to the vertex. */
const NEARER = 0.9;
const MOST_NEARER = 40;

/** The run along the line from `point` to the crossing next to the vertex's plane; undefined where it finds none. */
export function runToSag(sag: Sag, [px, py, pz]: Vec3, [dx, dy, dz]: Vec3): number | undefined {
  const s: SagValues = new Float64Array(6);
  let run = -pz / dz;
  for (let step = 0; step < MOST_STEPS; step++) {
    const [x, y, z] = [px + run * dx, py + run * dy, pz + run * dz];
    if (!Number.isFinite(x) || !Number.isFinite(y)) return undefined;
    if (!sag.at(x, y, s)) {
      const height = heightNear(sag, x, y, s);
      if (height === undefined || Math.abs(height - z) <= SETTLED * Math.abs(pz)) return undefined;
      run = (height - pz) / dz;
      continue;
    }
    const change = (z - s[0]!) / (dz - s[1]! * dx - s[2]! * dy);
    if (!Number.isFinite(change)) return undefined;
    run -= change;
    const lengths = 1 + Math.abs(run) + Math.abs(px) + Math.abs(py) + Math.abs(pz);
    if (Math.abs(change) <= SETTLED * lengths) return run;
  }
  return undefined;
}

/** The height where the surface begins on the way from a place beside it to the vertex. */
function heightNear(sag: Sag, x: number, y: number, s: SagValues): number | undefined {
  let share = NEARER;
  for (let step = 0; step < MOST_NEARER; step++, share *= NEARER)
    if (sag.at(share * x, share * y, s)) return s[0]!;
  return undefined;
}

/** Mean curvature at (x, y), 1/mm, positive where the centre of curvature lies on the + side; undefined where there is no surface. */
export function meanCurvature(sag: Sag, x: number, y: number): number | undefined {
  const s: SagValues = new Float64Array(6);
  if (!sag.at(x, y, s)) return undefined;
  const [, zx, zy, zxx, zxy, zyy] = s as unknown as [number, number, number, number, number, number];
  const size2 = 1 + zx * zx + zy * zy;
  return ((1 + zy * zy) * zxx - 2 * zx * zy * zxy + (1 + zx * zx) * zyy) / (2 * size2 * Math.sqrt(size2));
}
