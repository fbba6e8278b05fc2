/**
 * The place of the pattern by least squares over the edges that are seen, edges that fit no place dropped; with what is known of cameras
 * beforehand, so that a few outlines bend no picture. Its uncertainty is by the edges' residuals and by how far whole outlines are off.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import type { EdgeCrossing } from './edge-crossings.ts';
import { PLACE_UNKNOWNS, type Place, placeSlopes } from './place-model.ts';

export interface FittedPlace {
  readonly place: Place;
  /** By how much all edges are seen farther out, pixels. */
  readonly inset: number;
  /** Of each crossing whether it was kept. */
  readonly kept: readonly boolean[];
  /** Of each crossing, pixels, and how many times their stated uncertainty they are as a rule. */
  readonly residuals: Float64Array;
  readonly usual: number;
  /** Weighted root mean square of the kept ones. */
  readonly residual: number;
  /** F with F Fᵀ the covariance of the unknowns. */
  readonly factor: Float64Array;
}

/** Standard deviations, common practice of camera lenses: distortion of some per cent, its centre some per cent off the beam's. */
const DISTORTION = 0.04;
const DECENTRING = 0.003;
/** Pixels by which all edges together may be seen farther out: where light beside the pattern or fringes move the half of a step. */
const INSET = 1;
/** The place's, and by how much all edges are seen farther out. */
export const FITTED_UNKNOWNS = PLACE_UNKNOWNS + 1;
/** Residuals of this many standard deviations are worth half. */
const HALF_WEIGHT = 2;
/** Rounds of reweighting. */
const ROUNDS = 4;

export function fitPlace(crossings: readonly EdgeCrossing[], from: Place): FittedPlace {
  const n = FITTED_UNKNOWNS;
  const known = [DISTORTION, DECENTRING, DECENTRING, INSET];
  const m = crossings.length + known.length;
  const rows = new Float64Array(m * n);
  const values = new Float64Array(m);
  const [columnSlopes, rowSlopes] = [new Float64Array(n), new Float64Array(n)];
  crossings.forEach(({ at, outward, offset }, i) => {
    placeSlopes(from, ...at, columnSlopes, rowSlopes);
    for (let k = 0; k < PLACE_UNKNOWNS; k++)
      rows[i * n + k] = outward[0] * columnSlopes[k]! + outward[1] * rowSlopes[k]!;
    rows[i * n + PLACE_UNKNOWNS] = 1;
    values[i] = offset;
  });
  known.forEach((_, k) => {
    rows[(crossings.length + k) * n + 4 + k] = 1;
    values[crossings.length + k] = -(from[4 + k] ?? 0);
  });
  const weights = new Float64Array(m);
  known.forEach((deviation, k) => {
    weights[crossings.length + k] = 1 / deviation;
  });
  let residuals: Float64Array = values;
  let factor: Float64Array = new Float64Array();
  let change: Float64Array = new Float64Array(n);
  for (let round = 0; round < ROUNDS; round++) {
    const usual = scaleOf(crossings, residuals);
    crossings.forEach(({ uncertainty }, i) => {
      const off = residuals[i]! / (HALF_WEIGHT * usual * uncertainty);
      weights[i] = 1 / (usual * uncertainty * (1 + off * off));
    });
    const solved = solveLeastSquares(rows, n, values, { weights });
    residuals = solved.residuals;
    factor = solved.covarianceFactor;
    change = solved.solution;
  }
  const usual = scaleOf(crossings, residuals);
  const kept = crossings.map(
    ({ uncertainty }, i) => Math.abs(residuals[i]!) <= MOST_RESIDUAL * usual * uncertainty,
  );
  let [sum, weight] = [0, 0];
  crossings.forEach(({ uncertainty }, i) => {
    if (!kept[i]) return;
    sum += (residuals[i]! / uncertainty) ** 2;
    weight += 1 / uncertainty ** 2;
  });
  return {
    place: from.map((value, k) => value + change[k]!),
    inset: change[PLACE_UNKNOWNS]!,
    ...{ kept, residuals, usual },
    residual: Math.sqrt(sum / Math.max(weight, Number.MIN_VALUE)),
    factor,
  };
}

/** Residuals of more of the usual ones than this are no edge of the pattern. */
const MOST_RESIDUAL = 4;
/** From the median of |deviates| to their standard deviation, normal ones. */
const FROM_MEDIAN = 1.4826;

/** How many times their stated uncertainty the residuals are, by their median; 1 at least. */
function scaleOf(crossings: readonly EdgeCrossing[], residuals: Float64Array): number {
  const sizes = Float64Array.from(crossings, ({ uncertainty }, i) => Math.abs(residuals[i]!) / uncertainty);
  sizes.sort();
  return Math.max(1, FROM_MEDIAN * (sizes[Math.floor(sizes.length / 2)] ?? 0));
}
