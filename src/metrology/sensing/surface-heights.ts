/**
 * What the null shows of a rigid motion of the part (motion-heights.ts). mm, at points of the aperture weighted by area on the surface.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { type ApertureFootings, apertureFootings } from './aperture-footings.ts';
import { partHeights } from './motion-heights.ts';

export interface SurfaceHeights extends ApertureFootings {
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

function heightsOf(main: MainPattern, design: Design): SurfaceHeights {
  const { points, footings } = apertureFootings(main);
  const axis = main.surface.frame.rotation.map((row) => row[2]);
  const byDegree = DEGREES.map(() => new Float64Array(footings.length));
  const areas = Float64Array.from(footings, (footing, k) => {
    partHeights(design, footing).forEach((height, degree) => {
      byDegree[degree]![k] = height;
    });
    // dA on the surface = dx dy over the cosine between its normal and its axis.
    return (
      points.weights[k]! / Math.abs(footing.normal.reduce((sum, part, along) => sum + part * axis[along]!, 0))
    );
  });
  const whole = areas.reduce((sum, area) => sum + area, 0);
  const at = footings.map((footing) => footing.at);
  return { points, footings, at, roots: areas.map((area) => Math.sqrt(area / whole)), byDegree };
}
