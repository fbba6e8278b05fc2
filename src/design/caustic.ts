/**
 * Whether a caustic of the surface under test lies in its footprint: ∂P/∂(x, y), whose determinant is (1 − z/ρ₁)(1 − z/ρ₂) for principal radii
 * ρ and a pattern z away along the normal (parallel surfaces; from memory), changes its sign
 * there. The samples alone miss a narrow one: from where the area is least the search goes on, finer and finer. mm.
 */
import { covers } from '../geometry/contains.ts';
import type { Outline } from '../geometry/outline.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { Footing, NormalsOf } from '../optics/null-wave.ts';

interface Sample {
  readonly on: Vec2;
  readonly footing: Footing;
}

/** The area of the footprint for an area of the surface, against the squares of its sides: below it is a line. */
const LEAST_SPREAD = 1e-9;
/** Of the search: points a side about the least so far, and how much nearer they stand each time. */
const HALF_GRID = 4;
const FINER = 3;
const MOST_STEPS = 8;

/** A place on the pattern where normals cross, `samples` being `spacing` apart on the surface; undefined where none do. */
export function causticAt(
  aperture: Outline,
  normals: NormalsOf,
  samples: readonly Sample[],
  spacing: number,
): Vec2 | undefined {
  const way = Math.sign(samples.reduce((sum, { footing }) => sum + Math.sign(areaOf(footing)), 0)) || 1;
  let least = samples.reduce((best, one) =>
    way * areaOf(one.footing) < way * areaOf(best.footing) ? one : best,
  );
  for (
    let step = 0, reach = spacing;
    step < MOST_STEPS && !isCrossed(least.footing, way);
    step++, reach /= FINER
  ) {
    const [x0, y0] = least.on;
    for (let k = 0; k < (2 * HALF_GRID + 1) ** 2; k++) {
      const [i, j] = [(k % (2 * HALF_GRID + 1)) - HALF_GRID, Math.floor(k / (2 * HALF_GRID + 1)) - HALF_GRID];
      const on: Vec2 = [x0 + (i * reach) / HALF_GRID, y0 + (j * reach) / HALF_GRID];
      const footing = covers(aperture, on) ? normals.from(...on) : undefined;
      if (footing !== undefined && way * areaOf(footing) < way * areaOf(least.footing))
        least = { on, footing };
    }
  }
  return isCrossed(least.footing, way) ? least.footing.at : undefined;
}

const areaOf = ({ spread: [a, b, c, d] }: Footing): number => a * d - b * c;
const isCrossed = (footing: Footing, way: number): boolean =>
  way * areaOf(footing) <= LEAST_SPREAD * footing.spread.reduce((sum, side) => sum + side * side, 0);
