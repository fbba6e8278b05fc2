/**
 * The null with the part displaced, by traced rays: each goes from the pattern as the design sends it, to the surface where it has moved to,
 * is mirrored there, and comes back through the air and the glass to the pattern at P*. With E_out = −(the way out) by design, the return
 * there is longer by (way out and back) + E_out(P) + E_out(P*): from the design's foot on, s + home + E_out(P*). Half of that, the other
 * way, is the height that is read. mm, radians; substrate frame.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { testedSurface } from '../../design/tested-surface.ts';
import {
  composed,
  directionToParent,
  type Frame,
  placeFromParent,
  placeToParent,
  rotateBack,
  rotationFromVector,
} from '../../geometry/frame.ts';
import type { Sag } from '../../geometry/sag.ts';
import { negate, type Vec3 } from '../../geometry/vector.ts';
import { along, reflect } from '../../optics/ray.ts';
import { nullRays, termsOf } from './null-terms.ts';

/** Steps this small against the way settle it; Newton's method from the foot takes three or four. */
const SETTLED = 1e-14;
const MOST_STEPS = 30;

/**
 * Coefficients of all terms, mm of height, with the part found at T + R(θ)p of its frame; undefined where a ray misses the surface or does
 * not come back to a place that the null's wave reaches.
 */
export function nullWhenMoved(
  design: Design,
  main: MainPattern,
  translation: Vec3,
  rotation: Vec3,
): Float64Array | undefined {
  const { part } = design.scenario;
  const datum = part.datums.find(({ id }) => id === main.test.surface)!;
  const moved: Frame = { origin: translation, rotation: rotationFromVector(rotation) };
  const { sag, frame } = testedSurface(datum, { ...part, frame: composed(part.frame, moved) });
  const { glass } = design;
  const { thickness, index } = glass.side === 'after' ? glass : { thickness: 0, index: 1 };
  const { feet, normals, roots } = nullRays(main);
  const count = feet.length;
  const [xs, ys] = [new Float64Array(count), new Float64Array(count)];
  const heights = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const met = mirrored(sag, frame, feet[k]!, negate(normals[k]!));
    if (met === undefined) return undefined;
    const { way, at, direction } = met;
    const [dx, dy, dz] = direction;
    const home = (thickness - at[2]) / dz;
    const run = thickness === 0 ? 0 : thickness / Math.sqrt(index * index - dx * dx - dy * dy);
    if (!(home > 0) || Number.isNaN(run)) return undefined;
    xs[k] = at[0] + (home + run) * dx;
    ys[k] = at[1] + (home + run) * dy;
    heights[k] = -(way + home + index * index * run) / 2;
  }
  main.wave.accumulate(xs, ys, -0.5, heights, count);
  return heights.some(Number.isNaN) ? undefined : termsOf(main, xs, ys, heights, roots);
}

/** From the design's foot on along the ray to the surface where it stands now: how far, and how it leaves. */
function mirrored(
  sag: Sag,
  frame: Frame,
  foot: Vec3,
  toSurface: Vec3,
): { readonly way: number; readonly at: Vec3; readonly direction: Vec3 } | undefined {
  const from = placeFromParent(frame, foot);
  const toward = rotateBack(frame.rotation, toSurface);
  const values = new Float64Array(6);
  let way = 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    const [x, y, z] = along({ point: from, direction: toward }, way);
    if (!sag.at(x, y, values)) return undefined;
    const [height, zx, zy] = values as unknown as [number, number, number];
    const change = (height - z) / (toward[2] - zx * toward[0] - zy * toward[1]);
    way += change;
    if (!Number.isFinite(way)) return undefined;
    if (Math.abs(change) > SETTLED * (1 + Math.abs(way) + Math.hypot(...from))) continue;
    const size = Math.sqrt(1 + zx * zx + zy * zy);
    const direction = reflect(toward, [-zx / size, -zy / size, 1 / size]);
    return {
      way,
      at: placeToParent(frame, along({ point: from, direction: toward }, way)),
      direction: directionToParent(frame, direction),
    };
  }
  return undefined;
}
