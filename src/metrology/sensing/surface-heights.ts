/**
 * What the null shows of a rigid motion of the part (motion-heights.ts). mm, at points of the aperture weighted by area on the surface.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Footing } from '../../optics/null-wave.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { type AperturePoints, aperturePoints } from './aperture-points.ts';
import { partHeights } from './motion-heights.ts';

export interface SurfaceHeights {
  readonly points: AperturePoints;
  /** The normal at each point, and where it meets the pattern. */
  readonly footings: readonly Footing[];
  readonly at: readonly Vec2[];
  /** Square roots of the shares of the surface's area that the points stand for. */
  readonly roots: Float64Array;
  /** Of each degree, mm for 1 mm or 1 rad. */
  readonly byDegree: readonly Float64Array[];
}

/** Undefined where the scenario names no surface under test. */
export function surfaceHeights(design: Design): SurfaceHeights | undefined {
  const { main } = design;
  if (main === undefined) return undefined;
  const known = found.get(main);
  if (known !== undefined) return known;
  const made = heightsOf(main, design);
  found.set(main, made);
  return made;
}

const found = new WeakMap<MainPattern, SurfaceHeights>();

function heightsOf({ test, normals, surface }: MainPattern, design: Design): SurfaceHeights {
  const points = aperturePoints(test.aperture);
  const { xs, ys, weights } = points;
  const axis = surface.frame.rotation.map((row) => row[2]);
  const byDegree = DEGREES.map(() => new Float64Array(xs.length));
  const footings: Footing[] = [];
  const areas = Float64Array.from(xs, (x, k) => {
    const footing = normals.from(x, ys[k]!);
    if (footing === undefined) throw new Error(`no normal at x ${x}, y ${ys[k]} of the surface under test`);
    const { normal } = footing;
    footings.push(footing);
    partHeights(design, footing).forEach((height, degree) => {
      byDegree[degree]![k] = height;
    });
    // dA on the surface = dx dy over the cosine between its normal and its axis.
    return weights[k]! / Math.abs(normal.reduce((sum, part, along) => sum + part * axis[along]!, 0));
  });
  const whole = areas.reduce((sum, area) => sum + area, 0);
  const at = footings.map((footing) => footing.at);
  return { points, footings, at, roots: areas.map((area) => Math.sqrt(area / whole)), byDegree };
}
