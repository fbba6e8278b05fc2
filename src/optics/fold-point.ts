/**
 * Where on the pattern a corner cube folds a line focus: the point whose ray passes the apex and so comes back on itself. What leaves at
 * the run v from it along the line comes back at −v. In air that is the patch's centre, since the line stands square to the chief ray;
 * plane glass after the pattern shifts each ray sideways, and the fold with it, by t(tan θ − tan θ') along the line to first order.
 *
 * mm. With Q the point where the ray leaves the glass, its direction square to the line ℓ̂, the ray meets the line (Q − A)·ℓ̂ from the
 * apex A. Source: Snell's law at a plane face (Born & Wolf, §3.2.2); the inversion through the apex is that of corner-cube.ts.
 */
import { dot, subtract, type Vec2, type Vec3 } from '../geometry/vector.ts';
import { type Eikonal, gradientAt } from './eikonal.ts';
import { type PlaneGlass, rayPastGlass } from './ray.ts';

interface FoldedLight {
  /** E_out, a wave toward the line. */
  readonly leaving: Eikonal;
  /** ℓ̂, a unit vector. */
  readonly line: Vec3;
  /** A unit vector of the pattern plane: the line as drawn there, along which only the run along ℓ̂ changes. */
  readonly drawn: Vec2;
  readonly apex: Vec3;
  readonly glass: PlaneGlass;
}

/** The run changes by next to nothing but the line's own share: a few steps end in rounding. */
const MOST_STEPS = 12;
/** mm: far below any pattern's grid, far above rounding. */
const FOUND = 1e-10;

/** From `from` along the line as drawn; `from` itself where that finds no such point. */
export function foldPoint({ leaving, line, drawn, apex, glass }: FoldedLight, from: Vec2): Vec2 {
  const perRun = line[0] * drawn[0] + line[1] * drawn[1];
  let at = from;
  for (let step = 0; step < MOST_STEPS; step++) {
    const ray = rayPastGlass(glass, at, gradientAt(leaving, at[0], at[1]));
    if (ray === undefined) return from;
    const off = dot(subtract(ray.point, apex), line);
    if (Math.abs(off) < FOUND) return at;
    at = [at[0] - (off * drawn[0]) / perRun, at[1] - (off * drawn[1]) / perRun];
  }
  return at;
}
