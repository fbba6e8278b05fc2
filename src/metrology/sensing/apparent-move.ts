/**
 * A change of the wave that a patch sends out, read as a move of its reference: the move that would show the same fringes.
 * Lengths mm, the wave's change in mm of path.
 *
 * A target moved by τ changes E_out = −|P − A| by −û(P)·τ: its slope along ê, square to the chief ray, is τ·ê/s, and for τ
 * along û it bends as τρ²/(2s²), with s as in optical-distance.ts. Both passes see the change alike, so that its ratio to a move's
 * fringes is that of one pass.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { middleOf, opticalDistances, sensedSteps } from './optical-distance.ts';
import { widthAlong } from './sensitivity.ts';

/** The change of the leaving eikonal at a point of the pattern, mm. */
export type WaveChange = (x: number, y: number) => number;

/** Slope and bend are taken over the middle half of the patch, where it stands for the whole. */
const REACH = 0.25;

/** The move along the patch's sensed direction number `sense` that shows the same fringes, mm. */
export function apparentMove(
  design: Design,
  patch: DesignedPatch,
  sense: number,
  change: WaveChange,
): number {
  const [x, y] = middleOf(patch);
  const at = (step: Vec2, run: number): number => change(x + run * step[0], y + run * step[1]);
  const distance = opticalDistances(design, patch)[sense]!;
  const steps = sensedSteps(patch);
  const run = REACH * Math.max(...steps.map((_, k) => widthAlong(patch, patch.senses[k]!)));
  const step = steps[sense];
  if (step !== undefined) return (distance * (at(step, run) - at(step, -run))) / (2 * run);
  const around = steps.flatMap((each) => [at(each, run), at(each, -run)]);
  const mean = around.reduce((sum, value) => sum + value, 0) / around.length;
  return (2 * distance * distance * (mean - at([0, 0], 0))) / (run * run);
}
