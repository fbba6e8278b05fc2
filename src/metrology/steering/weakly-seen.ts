/**
 * Combinations of unknowns that the readings tell far less well than they are set by eye: moves along them would follow nothing but the
 * noise of the readings, by centimetres, and spoil what is known well. Steering counts them as not seen. mm.
 *
 * The combinations are the eigenvectors of the covariance, whose estimates are not correlated: what is left out of one leaves the best
 * estimate of the others as it is (principal components; I. T. Jolliffe, *Principal Component Analysis*, ch. 8).
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { LinearEstimate } from '../estimate/linear-estimate.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';

/** A standard uncertainty, mm, of which there is no doubt that an eye does better: ten times the poorer practice. */
const BEYOND_EYE = 10 * EYE_SETTING.poor;

/** Orthonormal, over the `n` unknowns. */
export function weaklySeen({ covariance }: LinearEstimate, n: number): readonly Float64Array[] {
  const { values, vectors } = symmetricEigen(covariance, n);
  return vectors.filter((_, k) => values[k]! > BEYOND_EYE * BEYOND_EYE);
}

/** The same estimate with nothing along these combinations, which count as unobserved. */
export function withoutThese(
  estimate: LinearEstimate,
  n: number,
  combinations: readonly Float64Array[],
): LinearEstimate {
  if (combinations.length === 0) return estimate;
  const gains = estimate.gains.slice();
  const m = gains.length / n;
  const covariance = estimate.covariance.slice();
  for (const v of combinations) {
    for (let row = 0; row < m; row++) {
      const along = v.reduce((sum, value, i) => sum + value * gains[i * m + row]!, 0);
      for (let i = 0; i < n; i++) gains[i * m + row]! -= along * v[i]!;
    }
    // An eigenvector: what it adds is its own variance, vᵀ C v.
    const own = v.reduce(
      (sum, a, i) => sum + a * v.reduce((row, b, j) => row + b * estimate.covariance[i * n + j]!, 0),
      0,
    );
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) covariance[i * n + j]! -= own * v[i]! * v[j]!;
  }
  return { ...estimate, gains, covariance, unobserved: [...estimate.unobserved, ...combinations] };
}
