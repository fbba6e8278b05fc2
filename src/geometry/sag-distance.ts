/**
 * The distance of a point from a surface given by its sag, positive on its + side, and the surface's unit normal there: the foot of the
 * perpendicular by Newton's method in the surface's two coordinates. mm, in the sag's own frame.
 */
import type { Sag, SagValues } from './sag.ts';
import type { Vec3 } from './vector.ts';

interface SagDistance {
  readonly value: number;
  /** Toward the + side of the axis. */
  readonly normal: Vec3;
  readonly foot: Vec3;
}

/** Undefined where no foot is found: beyond the surface's rim, or past its centres of curvature. */
export function sagDistance(sag: Sag, [px, py, pz]: Vec3): SagDistance | undefined {
  const s: SagValues = new Float64Array(6);
  let [x, y] = [px, py];
  for (let step = 0; step < MOST_STEPS; step++) {
    if (!sag.at(x, y, s)) return undefined;
    const [z, zx, zy, zxx, zxy, zyy] = s as unknown as [number, number, number, number, number, number];
    const rise = z - pz;
    const [fx, fy] = [x - px + rise * zx, y - py + rise * zy];
    const [a, b, c] = [1 + zx * zx + rise * zxx, zx * zy + rise * zxy, 1 + zy * zy + rise * zyy];
    const determinant = a * c - b * b;
    const [dx, dy] = [(b * fy - c * fx) / determinant, (b * fx - a * fy) / determinant];
    if (!Number.isFinite(dx) || !Number.isFinite(dy)) return undefined;
    x += dx;
    y += dy;
    if (Math.abs(dx) + Math.abs(dy) > SETTLED * (1 + Math.abs(px) + Math.abs(py))) continue;
    const size = Math.sqrt(1 + zx * zx + zy * zy);
    const normal: Vec3 = [-zx / size, -zy / size, 1 / size];
    const value = (px - x) * normal[0] + (py - y) * normal[1] + (pz - z) * normal[2];
    return { value, normal, foot: [x, y, z] };
  }
  return undefined;
}

const SETTLED = 1e-13;
const MOST_STEPS = 60;
