/**
 * The χ² distribution's upper tail, for tests of whether readings agree within their uncertainties.
 * Whole degrees of freedom by finite sums: M. Abramowitz, I. A. Stegun, 26.4.4 (odd) and 26.4.5 (even).
 */
import { probabilityWithin } from './student-t.ts';

/** Probability that χ² with `degreesOfFreedom` (a whole number from 1) is `value` or more. */
export function chiSquaredTail(value: number, degreesOfFreedom: number): number {
  const nu = degreesOfFreedom;
  if (!(Number.isInteger(nu) && nu > 0))
    throw new RangeError(`degrees of freedom of χ² are ${nu}; expected a whole number from 1`);
  if (!(value > 0)) return 1;
  // Terms e^{-x/2} (x/2)^k / Γ(k + 1), k = 0, 1, … or 1/2, 3/2, …, each from its logarithm so that none overflows.
  const half = value / 2;
  const odd = nu % 2 === 1;
  let sum = odd ? normalTail(Math.sqrt(value)) : 0;
  let logTerm = odd ? Math.log(2 * Math.sqrt(half / Math.PI)) - half : -half;
  for (let k = odd ? 0.5 : 0; k <= nu / 2 - 1; k++) {
    sum += Math.exp(logTerm);
    logTerm += Math.log(half / (k + 1));
  }
  return Math.min(1, sum);
}

/** Probability that a normal deviate's magnitude exceeds z. */
const normalTail = (z: number): number => 1 - probabilityWithin(z, Number.POSITIVE_INFINITY);
