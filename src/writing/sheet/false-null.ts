/**
 * The false null of a patch with a tilt bias: where its reference makes as many fringes as in place, tilted the other way. A picture
 * shows no sign, so both look alike; only a trial move tells them apart. To first order, from the traced slopes; mm and waves.
 */
import type { DesignedPatch } from '../../design/design.ts';
import { add, length, scale, type Vec3 } from '../../geometry/vector.ts';
import type { FringeTurning } from '../../metrology/camera/fringe-picture-strip.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { significant } from '../page/figures.ts';
import { lateralWords } from '../page/move-words.ts';
import { ALONG, biasSlope } from './turning-words.ts';

/** The move from the place to the false null, which takes the tilt bias b to −b; undefined where no sensed move does so. */
function falseNullMove(patch: DesignedPatch, turnings: readonly FringeTurning[]): Vec3 | undefined {
  const bias = biasSlope(patch);
  if (bias === undefined || patch.bias?.shape !== 'tilt') return undefined;
  const [first, second] = turnings.filter(({ sense }) => sense.kind === 'tilt');
  if (first === undefined) return undefined;
  const [bx, by] = bias;
  const [ux, uy] = first.slope;
  if (second === undefined) {
    const sine = (bx * uy - by * ux) / (Math.hypot(bx, by) * Math.hypot(ux, uy));
    if (Math.abs(sine) > ALONG) return undefined;
    return scale(first.sense.direction, (-2 * (bx * ux + by * uy)) / (ux * ux + uy * uy));
  }
  const [vx, vy] = second.slope;
  const determinant = ux * vy - uy * vx;
  if (Math.abs(determinant) < ALONG * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return undefined;
  return add(
    scale(first.sense.direction, (-2 * (bx * vy - by * vx)) / determinant),
    scale(second.sense.direction, (-2 * (ux * by - uy * bx)) / determinant),
  );
}

/** Where it lies and how to tell it from the place; undefined where there is none. */
export function falseNullWords(
  patch: DesignedPatch,
  turnings: readonly FringeTurning[],
  orientation: CameraOrientation,
): string | undefined {
  const move = falseNullMove(patch, turnings);
  if (move === undefined) return undefined;
  const distance = length(move);
  const way = lateralWords(scale(move, 1 / distance), orientation);
  const micrometres = significant(distance * UM_PER_MM);
  return (
    `The same number of fringes shows with the reference ${micrometres} µm off, ${way}. ` +
    'Test with a small move that way: it must open the fringes out. If it closes them up, the reference is at the false null: ' +
    `go back by ${micrometres} µm.`
  );
}
