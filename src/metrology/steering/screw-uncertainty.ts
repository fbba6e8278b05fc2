/**
 * Turns of the stage's screws with their standard uncertainties: `sigma` from the readings' own, `combined` with every term of the budget,
 * both with what no reading sees, as of any unknown (see unobserved.ts). A screw that mostly moves the part where no reading sees it has none.
 */
import type { StageAxis } from '../../scenario/scenario.ts';
import { isObservedAlong, SETTING } from '../estimate/unobserved.ts';
import { screwMotions, stageTurns } from './stage.ts';
import { type Displacement, displacementOf, type PartSteering } from './steering-part.ts';
import { onlySolution } from './steering-signs.ts';

interface ScrewTurns {
  readonly screws: readonly {
    readonly id: string;
    readonly turns: number;
    readonly sigma: number | undefined;
    readonly combined: number | undefined;
  }[];
  /** What the screws cannot do of the move. */
  readonly left: Displacement;
}

/** Undefined without a stage, or where no move of the part is decided. */
export function screwTurns(stage: readonly StageAxis[], part: PartSteering): ScrewTurns | undefined {
  const { candidates, pose, readings } = part;
  const solution = onlySolution(candidates);
  if (stage.length === 0 || solution === undefined || readings.length === 0) return undefined;
  const { size, free, problem } = pose;
  const { translation, rotation } = displacementOf(solution.unknowns, size);
  const minus = ([a, b, c]: Displacement['translation']) => [-a, -b, -c] as const;
  const { turns, left, gains } = stageTurns(
    stage,
    { translation: minus(translation), rotation: minus(rotation) },
    size,
  );
  const { gains: ofReadings, covariance } = problem.estimate;
  const m = readings.length;
  const n = Math.sqrt(covariance.length);
  const motions = screwMotions(stage, size);
  const screws = stage.map(({ id }, s) => {
    const gain = gains.subarray(6 * s, 6 * s + 6);
    const along = (vector: ArrayLike<number>): number => gain.reduce((sum, g, k) => sum + g * vector[k]!, 0);
    const unseen = free.basis.reduce((sum, v) => sum + (SETTING * along(v)) ** 2, 0);
    const own = readings.reduce((sum, { reading }, i) => {
      const effect = gain.reduce((total, g, k) => total + g * ofReadings[k * m + i]!, 0);
      return sum + (effect * reading.u) ** 2;
    }, 0);
    const all = gain.reduce(
      (sum, g, k) => sum + g * gain.reduce((row, h, j) => row + h * covariance[k * n + j]!, 0),
      0,
    );
    const seen = isObservedAlong(free.basis, motions[s]!);
    const told = (variance: number): number | undefined => (seen ? Math.sqrt(variance + unseen) : undefined);
    return { id, turns: turns[s]!, sigma: told(own), combined: told(all) };
  });
  return { screws, left };
}
