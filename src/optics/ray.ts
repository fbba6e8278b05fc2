/**
 * A ray at a mirror, at a refracting face and through a plane slab, as vectors.
 *
 * mm; directions are unit vectors that point along the light. The lateral optical cosines p = n·(d_x, d_y) of a ray are the
 * gradient of its eikonal in the plane z = const; a plane face square to z keeps them (Snell's law), a grating adds
 * order · λ · ∇Φ to them. Source: Born & Wolf, Principles of Optics, §3.2.2 (refraction and reflection).
 */
import { add, dot, scale, subtract, type Vec2, type Vec3 } from '../geometry/vector.ts';

export interface Ray {
  readonly point: Vec3;
  /** Unit vector along the light. */
  readonly direction: Vec3;
}

/** The place a run of `path` mm along the ray. */
export const along = (ray: Ray, path: number): Vec3 => add(ray.point, scale(ray.direction, path));

/** The direction after a plane mirror with the unit `normal`, of either sign. */
export const reflect = (direction: Vec3, normal: Vec3): Vec3 =>
  subtract(direction, scale(normal, 2 * dot(direction, normal)));

/**
 * The direction in a medium of `index` that has the lateral optical cosines p, travelling toward +z (`sense` 1) or −z (−1).
 * Undefined where |p| reaches the index: the wave is evanescent, or totally reflected.
 */
export function directionFromLateral(p: Vec2, index: number, sense: 1 | -1): Vec3 | undefined {
  const axial2 = index * index - p[0] * p[0] - p[1] * p[1];
  if (!(axial2 > 0)) return undefined;
  return [p[0] / index, p[1] / index, (sense * Math.sqrt(axial2)) / index];
}

/**
 * A plane slab of `thickness` mm and `index` crossed by a ray of squared lateral optical cosine p² (< index²).
 * Lateral run = p · `runPerCosine` (mm); optical path = `path` (mm, index times the length in the glass).
 */
export function slabCrossing(
  p2: number,
  thickness: number,
  index: number,
): { readonly runPerCosine: number; readonly path: number } {
  const runPerCosine = thickness / Math.sqrt(index * index - p2);
  return { runPerCosine, path: index * index * runPerCosine };
}

/** Plane glass square to z, its index relative to the air around. */
export interface PlaneGlass {
  readonly thickness: number;
  readonly index: number;
  readonly side: 'before' | 'after';
}

/** The ray in air of light that leaves the pattern at a point with lateral cosines p, past the glass after it; undefined where evanescent. */
export function rayPastGlass({ thickness, index, side }: PlaneGlass, [x, y]: Vec2, p: Vec2): Ray | undefined {
  const direction = directionFromLateral(p, 1, 1);
  if (direction === undefined) return undefined;
  const height = side === 'after' ? thickness : 0;
  const { runPerCosine } = slabCrossing(p[0] * p[0] + p[1] * p[1], height, index);
  return { point: [x + p[0] * runPerCosine, y + p[1] * runPerCosine, height], direction };
}

/** The run along the ray to the plane z = `height`, mm; Infinity for a ray along that plane, negative behind the ray. */
export const runToHeight = (ray: Ray, height: number): number =>
  ray.direction[2] === 0 ? Infinity : (height - ray.point[2]) / ray.direction[2];
