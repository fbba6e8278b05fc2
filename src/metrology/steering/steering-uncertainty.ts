/**
 * Standard uncertainties of what steering finds: `sigma` from the readings' own, `combined` with every term of the budget. An
 * unknown that no reading sees has none; one that it merely touches has the share of setting by eye in it (see unobserved.ts).
 */

import { observedOf, SETTING, throughSetting } from '../estimate/unobserved.ts';
import type { SteeringProblem } from './steering-solve.ts';

export interface Uncertainty {
  readonly sigma: readonly (number | undefined)[];
  readonly combined: readonly (number | undefined)[];
}

/**
 * For as many unknowns as there are `scales`, which take each from mm to the unit it is wanted in. `unobserved` is an
 * orthonormal basis over those unknowns.
 */
export function uncertaintyOf(
  { estimate, readings, unknowns: n }: SteeringProblem,
  unobserved: readonly Float64Array[],
  scales: readonly number[],
): Uncertainty {
  const observed = observedOf(unobserved, scales.length);
  const m = readings.length;
  const whole = (variance: number, k: number): number | undefined =>
    observed[k]
      ? Math.sqrt(variance + SETTING * SETTING * throughSetting(unobserved, k, k)) * scales[k]!
      : undefined;
  return {
    sigma: scales.map((_, k) => {
      let variance = 0;
      for (let i = 0; i < m; i++) variance += (estimate.gains[k * m + i]! * readings[i]!.reading.u) ** 2;
      return whole(variance, k);
    }),
    combined: scales.map((_, k) => whole(estimate.covariance[k * n + k]!, k)),
  };
}
