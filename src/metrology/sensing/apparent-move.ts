/**
 * A change of the wave that a patch sends out, read as a move of its reference: the move that would show the same fringes.
 * Lengths mm, the wave's change in mm of path.
 *
 * A target moved by τ changes E_out = −|P − A| by −û(P)·τ: its slope along ê, square to the chief ray, is τ·ê/s, and for τ
 * along û it bends as τρ²/(2s²). Both passes see the change alike, so that its ratio to a move's fringes is that of one pass.
 */
import type { DesignedPatch } from '../../design/design.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import { widthAlong } from './sensitivity.ts';

/** The change of the leaving eikonal at a point of the pattern, mm. */
export type WaveChange = (x: number, y: number) => number;

/** Slope and bend are taken over the middle half of the patch, where it stands for the whole. */
const REACH = 0.25;

/** The move along the patch's sensed direction number `sense` that shows the same fringes, mm. */
export function apparentMove(patch: DesignedPatch, sense: number, change: WaveChange): number {
  const at = (step: Vec2, run: number): number =>
    change(patch.centre[0] + run * step[0], patch.centre[1] + run * step[1]);
  const { distance } = patch;
  if (patch.lineDirection !== undefined) {
    const [direction] = patch.senses as readonly [Vec3];
    const run = REACH * widthAlong(patch, direction);
    const step = patternStep(direction, patch.lineDirection);
    return (distance * (at(step, run) - at(step, -run))) / (2 * run);
  }
  const [first, second] = patch.senses as readonly [Vec3, Vec3, Vec3];
  const [one, other] = [patternStep(first, second), patternStep(second, first)];
  const run = REACH * Math.max(widthAlong(patch, first), widthAlong(patch, second));
  if (sense < 2) {
    const step = sense === 0 ? one : other;
    return (distance * (at(step, run) - at(step, -run))) / (2 * run);
  }
  const around = (at(one, run) + at(one, -run) + at(other, run) + at(other, -run)) / 4;
  return (2 * distance * distance * (around - at(one, 0))) / (run * run);
}

/** The step in the pattern that goes 1 mm along `direction` and none along `square`, both square to the chief ray. */
function patternStep(direction: Vec3, square: Vec3): Vec2 {
  const determinant = direction[0] * square[1] - direction[1] * square[0];
  return [square[1] / determinant, -square[0] / determinant];
}
