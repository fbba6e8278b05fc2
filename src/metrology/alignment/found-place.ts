/**
 * The part's place from one round of readings, with its uncertainty by JCGM 100: the displacement from the design place that steering finds
 * (steering-part.ts), its standard uncertainty from the readings alone and with the whole budget, and the covariance of the six degrees.
 * mm and rad, part frame, about the part's origin.
 */
import { DEGREES } from '../../scenario/scenario.ts';
import { SETTING, throughSetting } from '../estimate/unobserved.ts';
import { type Displacement, displacementOf, type PartSteering } from '../steering/steering-part.ts';

export interface FoundPlace {
  readonly displacement: Displacement;
  /** The same as six numbers, 0 where unobserved. */
  readonly six: readonly number[];
  /** One standard uncertainty from the readings alone, and combined with every term of the budget; undefined where unobserved. */
  readonly sigma: readonly (number | undefined)[];
  readonly combined: readonly (number | undefined)[];
  /** Combined, 6 × 6 row-major; NaN in the rows and columns of what is unobserved. */
  readonly covariance: Float64Array;
  readonly observed: readonly boolean[];
}

/** Undefined where none of the readings is of the part, or where unknown signs leave more than one place. */
export function foundPlace({
  pose,
  candidates,
  readings,
  uncertainty,
}: PartSteering): FoundPlace | undefined {
  if (readings.length === 0 || candidates.length !== 1) return undefined;
  const { size, free, problem } = pose;
  const displacement = displacementOf(candidates[0]!.solution.unknowns, size);
  const scales = DEGREES.map((_, k) => (k < 3 ? 1 : 1 / size));
  const unknowns = Math.sqrt(problem.estimate.covariance.length);
  const { observed } = free;
  const covariance = new Float64Array(36);
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++)
      covariance[i * 6 + j] =
        observed[i] && observed[j]
          ? (problem.estimate.covariance[i * unknowns + j]! +
              SETTING * SETTING * throughSetting(free.basis, i, j)) *
            scales[i]! *
            scales[j]!
          : Number.NaN;
  const six = [...displacement.translation, ...displacement.rotation].map((part, k) =>
    observed[k] ? part : 0,
  );
  return { displacement, six, ...uncertainty, covariance, observed };
}
