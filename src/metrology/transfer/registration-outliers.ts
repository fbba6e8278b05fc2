/**
 * Which tracked point does not fit: each point's residual against that residual's own covariance, a χ² of as many degrees of
 * freedom as the other points check (three, unless few points or weak directions leave less).
 * W. Baarda, *A Testing Procedure for Use in Geodetic Networks*, 1968, for three coordinates at once.
 */

import { chiSquaredTail } from '../../algebra/distributions.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';

/** One point whitened: rows of L⁻¹J (3 × 6) and L⁻¹e. */
export interface WhitePoint {
  readonly rows: Float64Array;
  readonly residual: Float64Array;
  /** L⁻¹, row-major. */
  readonly weight: Float64Array;
}

export interface PointTest {
  /** eᵀ(C_e)⁻¹e over the directions that are checked. */
  readonly chiSquared: number;
  /** 0: the other points say nothing about this one. */
  readonly degreesOfFreedom: number;
  readonly probability: number;
}

/** A direction of which the others check less than this share is not tested. */
const LEAST_REDUNDANCY = 1e-6;

/** One test a point. The whitened residual has the covariance I − B C Bᵀ. */
export function testPoints(white: readonly WhitePoint[], covariance: Float64Array): readonly PointTest[] {
  return white.map(({ rows, residual }): PointTest => {
    const own = new Float64Array(9);
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        let taken = 0;
        for (let a = 0; a < 6; a++)
          for (let b = 0; b < 6; b++) taken += rows[i * 6 + a]! * covariance[a * 6 + b]! * rows[j * 6 + b]!;
        own[i * 3 + j] = (i === j ? 1 : 0) - taken;
      }
    }
    const { values, vectors } = symmetricEigen(own, 3);
    let [chiSquared, degreesOfFreedom] = [0, 0];
    values.forEach((value, k) => {
      if (!(value > LEAST_REDUNDANCY)) return;
      const along = vectors[k]!.reduce((sum, entry, i) => sum + entry * residual[i]!, 0);
      chiSquared += (along * along) / value;
      degreesOfFreedom++;
    });
    const probability = degreesOfFreedom === 0 ? 1 : chiSquaredTail(chiSquared, degreesOfFreedom);
    return { chiSquared, degreesOfFreedom, probability };
  });
}
