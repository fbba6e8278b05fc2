/**
 * A ray at a surface given by its sag, wherever that stands: where it meets it and how it leaves, by the law of reflection. The crossing by
 * Newton's method along the ray, from a guess that names which of several is meant. Substrate frame, mm.
 */
import { directionToParent, placeFromParent, rotateBack } from '../geometry/frame.ts';
import type { Returned } from './ball.ts';
import type { PlacedSag } from './null-wave.ts';
import { along, type Ray, reflect } from './ray.ts';

/** A run is settled when a step is this small against it. */
const SETTLED = 1e-14;
/** Quadratic from a guess that is near. */
const MOST_STEPS = 30;

/** `guess`: a run along the ray to near the crossing. Undefined where the ray meets no surface ahead of it. */
export function reflectAtSag({ sag, frame }: PlacedSag, ray: Ray, guess: number): Returned | undefined {
  const [x, y, z] = placeFromParent(frame, ray.point);
  const [dx, dy, dz] = rotateBack(frame.rotation, ray.direction);
  const values = new Float64Array(6);
  let run = guess;
  for (let step = 0; step < MOST_STEPS; step++) {
    if (!sag.at(x + run * dx, y + run * dy, values)) return undefined;
    const [height, zx, zy] = values as unknown as [number, number, number];
    const by = (z + run * dz - height) / (dz - zx * dx - zy * dy);
    if (!Number.isFinite(by)) return undefined;
    run -= by;
    if (Math.abs(by) > SETTLED * (1 + Math.abs(run))) continue;
    if (!(run > 0)) return undefined;
    const size = Math.sqrt(1 + zx * zx + zy * zy);
    const normal = directionToParent(frame, [-zx / size, -zy / size, 1 / size]);
    return { ray: { point: along(ray, run), direction: reflect(ray.direction, normal) }, path: run };
  }
  return undefined;
}
