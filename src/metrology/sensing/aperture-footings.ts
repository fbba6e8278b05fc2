/** The points of the aperture with the surface's normal at each, followed back to the pattern: once for a main pattern. mm. */
import type { MainPattern } from '../../design/main-pattern.ts';
import type { Footing } from '../../optics/null-wave.ts';
import { type AperturePoints, aperturePoints } from './aperture-points.ts';

export interface ApertureFootings {
  readonly points: AperturePoints;
  /** The normal at each point, and where it meets the pattern. */
  readonly footings: readonly Footing[];
}

const known = new WeakMap<MainPattern, ApertureFootings>();

export function apertureFootings(main: MainPattern): ApertureFootings {
  const found = known.get(main) ?? followed(main);
  known.set(main, found);
  return found;
}

function followed({ test, normals }: MainPattern): ApertureFootings {
  const points = aperturePoints(test.aperture);
  const footings = Array.from(points.xs, (x, k) => {
    const y = points.ys[k]!;
    const footing = normals.from(x, y);
    if (footing === undefined) throw new Error(`no normal at x ${x}, y ${y} of the surface under test`);
    return footing;
  });
  return { points, footings };
}
