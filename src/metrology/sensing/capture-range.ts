/**
 * How far off its place a patch's reference may stand and the patch still answer. mm.
 *
 * Two things end it, and the nearer one counts:
 *   light   a lateral miss q brings the light back displaced, by 2q(s − R)/R from a ball and by 2q from a cube, a miss along the ray
 *           spreads or shrinks it; what comes back beside the patch is lost. Traced to the real ball or cube, either way.
 *   pixels  fringes, with the bias's on top, too close for the camera, or for an eye that is to count them.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import { latticePoints } from '../../geometry/sampling.ts';
import { scale, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { FATES, fateTracer, movedReference, type TracedReference } from '../../optics/round-trip.ts';
import { pixelPitch } from './camera-pixels.ts';
import { tracedPatch } from './null-fringes.ts';
import { realReference } from './returned-light.ts';

/** Of a patch's light: with less of it back, fringes stand on a corner of the patch and show half their contrast or less. Assumed. */
export const LEAST_ANSWER = 0.25;

/** Fringes per mm of the pattern at which an amount of them per pixel is reached. */
export const densityAt = (design: Design, perPixel: number): number => perPixel / pixelPitch(design);

/**
 * The amount q of a move at which fringes |b + q·perUnit| come to `limit`, whichever way it goes and whichever half of a roof has them:
 * m² q² + 2|b·m| q + b² − limit² = 0. All in fringes per mm of the pattern; 0 where the bias b alone is beyond, Infinity where nothing changes.
 */
export function moveToDensity(bias: Vec2, perUnit: Vec2, limit: number): number {
  const left = limit * limit - bias[0] ** 2 - bias[1] ** 2;
  if (!(left > 0)) return 0;
  const a = perUnit[0] ** 2 + perUnit[1] ** 2;
  const b = Math.abs(bias[0] * perUnit[0] + bias[1] * perUnit[1]);
  return left / (b + Math.sqrt(b * b + a * left));
}

/** The bias's own fringes as the camera shows them, per mm of the pattern: of a roof, those of one half. */
export const biasDensity = ({ bias }: DesignedPatch): Vec2 =>
  bias === undefined
    ? [0, 0]
    : [(bias.fringes * bias.direction[0]) / bias.reach, (bias.fringes * bias.direction[1]) / bias.reach];

/** The largest move of the reference along `direction`, either way and up to `most`, from which LEAST_ANSWER of the light comes back. */
export function rangeByLight(design: Design, patch: DesignedPatch, direction: Vec3, most: number): number {
  const reference = realReference(design, patch);
  if (reference === undefined) return most;
  const share = shareTracer(design, patch);
  return rangeOf(most, (move) => share(movedReference(reference, scale(direction, move))));
}

/** The share of a patch's light that comes back from a reference or feature, wherever it stands. */
export function shareTracer(design: Design, patch: DesignedPatch): (reference: TracedReference) => number {
  const { xs, ys } = latticePoints(patch.outline, RAYS);
  const contains = (x: number, y: number): boolean => covers(patch.outline, [x, y]);
  const fates = fateTracer({ ...tracedPatch(design, patch), contains }, xs, ys);
  return (reference) => fates(reference).filter((fate) => fate === RETURNED).length / xs.length;
}

/** The largest amount up to `most` at which enough light answers either way: the more off, the less of it. */
export function rangeOf(most: number, shareAt: (amount: number) => number): number {
  const answers = (amount: number): boolean => Math.min(shareAt(amount), shareAt(-amount)) >= LEAST_ANSWER;
  if (answers(most)) return most;
  let [near, far] = [0, most];
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (near + far) / 2;
    if (answers(middle)) near = middle;
    else far = middle;
  }
  return near;
}

/** Rays over a patch: a share is told to under a hundredth, and the range that hangs on it to a hundredth of itself. */
const RAYS = 256;
const HALVINGS = 12;
const RETURNED = FATES.indexOf('returned');
