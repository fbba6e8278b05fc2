/** The interferometer's light on its way to a patch, in the air before the glass, ray by ray. Substrate frame, mm. */
import type { Design } from '../../design/design.ts';
import { scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { directionFromLateral, slabCrossing } from '../../optics/ray.ts';
import type { Sight, Sights } from './line-of-sight.ts';

/** The rays over the last `depth` mm along z before the first face, or from the beam's focus where that is nearer. */
export const incomingSights =
  (depth: number): Sights =>
  (design, _patch, xs, ys) =>
    incomingRays(design, depth, xs, ys);

/** The same of any points of the pattern plane, whatever patch is there. */
export function incomingRays(
  design: Design,
  depth: number,
  xs: Float64Array,
  ys: Float64Array,
): readonly (Sight | undefined)[] {
  const gx = new Float64Array(xs.length);
  const gy = new Float64Array(xs.length);
  design.beam.eikonal.accumulateGradient(xs, ys, 1, gx, gy, xs.length);
  const { side, thickness, index } = design.glass;
  const before = side === 'before' ? thickness : 0;
  const run = Math.min(depth, spaceBefore(design, before));
  return Array.from(xs, (x, i): Sight | undefined => {
    const [px, py] = [gx[i]!, gy[i]!];
    const direction = directionFromLateral([px, py], 1, 1);
    if (direction === undefined) return undefined;
    const { runPerCosine } = slabCrossing(px * px + py * py, before, index);
    const entry: Vec3 = [x - px * runPerCosine, ys[i]! - py * runPerCosine, -before];
    return { from: subtract(entry, scale(direction, run / direction[2])), to: entry };
  });
}

function spaceBefore({ scenario }: Design, before: number): number {
  const { beam } = scenario.interferometer;
  return beam.kind === 'diverging' ? -beam.focus[2] - before : Number.POSITIVE_INFINITY;
}
