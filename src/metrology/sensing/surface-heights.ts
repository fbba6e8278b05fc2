/**
 * What the null shows of a rigid motion of the part (T, θ about its origin, part frame): at X of the surface under test the height changes by
 * h(X) = n·(T + θ × X), n the normal toward the hologram, and the wavefront by 2h. Kinematics of a rigid body; the same as first
 * differences of traced wavefronts. mm, at points of the aperture weighted by area on the surface.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { placeFromParent, rotateBack } from '../../geometry/frame.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { type AperturePoints, aperturePoints } from './aperture-points.ts';
import { sensitivityRow } from './sensitivity.ts';

export interface SurfaceHeights {
  readonly points: AperturePoints;
  /** Where the normal of each point meets the pattern. */
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

function heightsOf({ test, normals, surface }: MainPattern, { scenario }: Design): SurfaceHeights {
  const { frame } = scenario.part;
  const points = aperturePoints(test.aperture);
  const { xs, ys, weights } = points;
  const axis = surface.frame.rotation.map((row) => row[2]);
  const byDegree = DEGREES.map(() => new Float64Array(xs.length));
  const at: Vec2[] = [];
  const areas = Float64Array.from(xs, (x, k) => {
    const footing = normals.from(x, ys[k]!);
    if (footing === undefined) throw new Error(`no normal at x ${x}, y ${ys[k]} of the surface under test`);
    const { foot, normal } = footing;
    at.push(footing.at);
    const row = sensitivityRow(rotateBack(frame.rotation, normal), placeFromParent(frame, foot));
    row.forEach((height, degree) => {
      byDegree[degree]![k] = height;
    });
    // dA on the surface = dx dy over the cosine between its normal and its axis.
    return weights[k]! / Math.abs(normal.reduce((sum, part, along) => sum + part * axis[along]!, 0));
  });
  const whole = areas.reduce((sum, area) => sum + area, 0);
  return { points, at, roots: areas.map((area) => Math.sqrt(area / whole)), byDegree };
}
