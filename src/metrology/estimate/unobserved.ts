/**
 * What no reading sees: which unknowns that leaves without a figure, and what it does to the others.
 *
 * A direction that is not observed is still not anywhere: everything stands within the reach of setting by eye before its
 * fringes can be read. An unknown that such a direction mostly is has no σ; one that it merely touches (a lateral place seen
 * by a slightly inclined ray, with the axial one unknown) has a σ with that setting's share in it, a term of its own.
 */
import { EYE_SETTING } from '../sensing/sensitivity.ts';

/** Standard uncertainty of a place set by eye, mm: the poorer practice, taken as rectangular. */
export const SETTING = EYE_SETTING.poor / Math.sqrt(3);

/** An unknown has no figure where more than this of a unit of what is unobserved shows in it. */
const MOSTLY = 0.5;

/** For each unknown, whether it has a figure; `basis` is orthonormal, in like units. */
export const observedOf = (basis: readonly Float64Array[], unknowns: number): readonly boolean[] =>
  Array.from({ length: unknowns }, (_, k) => Math.sqrt(throughSetting(basis, k, k)) <= MOSTLY);

/** Σ v_i v_j: how the setting of what is unobserved shows in two unknowns together. */
export function throughSetting(basis: readonly Float64Array[], i: number, j: number): number {
  return basis.reduce((sum, v) => sum + v[i]! * v[j]!, 0);
}

/** Whether a motion, not 0, has a figure: no more than MOSTLY of it lies along what is unobserved. */
export function isObservedAlong(basis: readonly Float64Array[], motion: readonly number[]): boolean {
  const length = Math.hypot(...motion);
  const through = basis.map((v) => motion.reduce((sum, value, k) => sum + value * v[k]!, 0));
  return Math.hypot(...through) <= MOSTLY * length;
}
