/**
 * The rigid motion from design places to the tracker's frame, weighted by each point's covariance: Gauss–Newton over the six
 * degrees of freedom from the closed form, by QR. mm and rad.
 *
 * Unknowns at each step: T and θ in the frame `about` (the part's), as a small motion of the design places before they are
 * carried over. Residuals e = measured − motion(design), covariance C = C_measured + A C_place Aᵀ. At the solution Jᵀ C⁻¹ e = 0.
 */

import { chiSquaredTail } from '../../algebra/distributions.ts';
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import { choleskyFactor } from '../../algebra/triangular-factors.ts';
import {
  composed,
  type Frame,
  inverse,
  placeFromParent,
  placeToParent,
  rotate,
  rotationFromVector,
} from '../../geometry/frame.ts';
import { subtract, type Vec3 } from '../../geometry/vector.ts';
import { CONTRADICTION } from '../estimate/consistency.ts';
import { type RegistrationPoint, turned } from './registration-points.ts';
import { rigidStart } from './registration-start.ts';

export interface Registration {
  readonly points: readonly RegistrationPoint[];
  /** Carries a place in the substrate frame as designed into the tracker's frame. */
  readonly toTracker: Frame;
  /** 6 × 6 row-major: T (mm) and θ (rad) in the frame `about`, from all that is uncertain. */
  readonly covariance: Float64Array;
  /** The same, from the tracker's uncertainties alone, with the same weights. */
  readonly trackerCovariance: Float64Array;
  /** Measured less design, carried back into the substrate frame, mm, one a point. */
  readonly residuals: readonly Vec3[];
  readonly tests: readonly PointTest[];
  readonly chiSquared: number;
  /** 3 a point less 6. */
  readonly degreesOfFreedom: number;
  readonly probability: number;
  readonly contradictory: boolean;
}

/** Steps shorter than this, relative to the points' distances, end the search. */
const SETTLED = 1e-14;
/** Quadratic from a closed form that is a few µm off: three or four do. */
const MOST_STEPS = 50;

/** Of three points or more that are not on one line; see registration-refusals.ts. */
export function register(points: readonly RegistrationPoint[], about: Frame): Registration {
  let toTracker = rigidStart(
    points.map(({ design }) => design),
    points.map(({ measured }) => measured),
  ).motion;
  const size = Math.max(...points.map(({ design }) => Math.hypot(...placeFromParent(about, design))), 1);
  for (let step = 0; step < MOST_STEPS; step++) {
    const { solution } = solve(whitened(points, toTracker, about));
    toTracker = moved(toTracker, solution, about);
    const length = Math.hypot(solution[0]!, solution[1]!, solution[2]!);
    const angle = Math.hypot(solution[3]!, solution[4]!, solution[5]!);
    if (length + angle * size < SETTLED * size) break;
  }
  const white = whitened(points, toTracker, about);
  const { covarianceFactor } = solve(white);
  const covariance = outer(covarianceFactor);
  const chiSquared = white.reduce((sum, { residual }) => sum + residual.reduce((s, e) => s + e * e, 0), 0);
  const degreesOfFreedom = 3 * points.length - 6;
  const probability = chiSquaredTail(chiSquared, degreesOfFreedom);
  return {
    points,
    toTracker,
    covariance,
    trackerCovariance: trackerShare(points, white, covariance),
    residuals: points.map(({ design, measured }) => subtract(placeFromParent(toTracker, measured), design)),
    tests: testPoints(white, covariance),
    chiSquared,
    degreesOfFreedom,
    probability,
    contradictory: probability < CONTRADICTION,
  };
}

function whitened(points: readonly RegistrationPoint[], toTracker: Frame, about: Frame): WhitePoint[] {
  return points.map(({ design, measured, measuredCovariance, placeCovariance }) => {
    const place = turned(placeCovariance, toTracker.rotation);
    const l = choleskyFactor(
      measuredCovariance.map((value, k) => value + place[k]!),
      3,
    );
    const weight = invertLower3(l);
    const e = subtract(measured, placeToParent(toTracker, design));
    const r = placeFromParent(about, design);
    // A F (T + θ × r): columns of A F [I, −[r]×].
    const columns: readonly Vec3[] = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0, -r[2], r[1]],
      [r[2], 0, -r[0]],
      [-r[1], r[0], 0],
    ];
    const rows = new Float64Array(18);
    columns.forEach((column, k) => {
      const turnedColumn = rotate(toTracker.rotation, rotate(about.rotation, column));
      times3(weight, turnedColumn).forEach((value, i) => {
        rows[i * 6 + k] = value;
      });
    });
    return { rows, residual: times3(weight, e), weight };
  });
}

function solve(white: readonly WhitePoint[]) {
  const rows = new Float64Array(white.length * 18);
  const values = new Float64Array(white.length * 3);
  white.forEach((point, k) => {
    rows.set(point.rows, k * 18);
    values.set(point.residual, k * 3);
  });
  return solveLeastSquares(rows, 6, values, { refinementSteps: 2 });
}

/** The motion after the design places have first been moved by the step. */
function moved(toTracker: Frame, step: Float64Array, about: Frame): Frame {
  const small: Frame = {
    origin: [step[0]!, step[1]!, step[2]!],
    rotation: rotationFromVector([step[3]!, step[4]!, step[5]!]),
  };
  return composed(composed(toTracker, composed(about, small)), inverse(about));
}

/** Σ G C_measured Gᵀ with the gains G = C Jᵀ W of the solution. */
function trackerShare(
  points: readonly RegistrationPoint[],
  white: readonly WhitePoint[],
  covariance: Float64Array,
): Float64Array {
  const share = new Float64Array(36);
  white.forEach(({ rows, weight }, k) => {
    const gain = new Float64Array(18);
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 3; j++)
        for (let a = 0; a < 6; a++)
          for (let b = 0; b < 3; b++)
            gain[i * 3 + j]! += covariance[i * 6 + a]! * rows[b * 6 + a]! * weight[b * 3 + j]!;
    const { measuredCovariance: c } = points[k]!;
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++)
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++)
            share[i * 6 + j]! += gain[i * 3 + a]! * c[a * 3 + b]! * gain[j * 3 + b]!;
  });
  return share;
}

function outer(factor: Float64Array): Float64Array {
  const product = new Float64Array(36);
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++)
      for (let k = 0; k < 6; k++) product[i * 6 + j]! += factor[i * 6 + k]! * factor[j * 6 + k]!;
  return product;
}

function invertLower3(l: Float64Array): Float64Array {
  const [a, b, c] = [1 / l[0]!, 1 / l[4]!, 1 / l[8]!];
  const ba = -l[3]! * a * b;
  return Float64Array.of(a, 0, 0, ba, b, 0, -(l[6]! * a + l[7]! * ba) * c, -l[7]! * b * c, c);
}

const times3 = (m: Float64Array, v: Vec3): Float64Array =>
  Float64Array.from([0, 3, 6], (row) => m[row]! * v[0] + m[row + 1]! * v[1] + m[row + 2]! * v[2]);

/** One point whitened: rows of L⁻¹J (3 × 6) and L⁻¹e. */
interface WhitePoint {
  readonly rows: Float64Array;
  readonly residual: Float64Array;
  /** L⁻¹, row-major. */
  readonly weight: Float64Array;
}

/**
 * The points whose residuals have a probability under that of a contradiction, the least likely first; where the set as a whole
 * contradicts itself, at least the least likely one.
 */
export function outliersOf({ tests, contradictory }: Registration): readonly number[] {
  const order = tests
    .map((test, k) => ({ k, ...test }))
    .filter(({ degreesOfFreedom }) => degreesOfFreedom > 0)
    .sort((a, b) => a.probability - b.probability || b.chiSquared - a.chiSquared || a.k - b.k);
  const unlikely = order.filter(({ probability }) => probability < CONTRADICTION);
  return (unlikely.length === 0 && contradictory ? order.slice(0, 1) : unlikely).map(({ k }) => k);
}

interface PointTest {
  /** eᵀ(C_e)⁻¹e over the directions that are checked. */
  readonly chiSquared: number;
  /** 0: the other points say nothing about this one. */
  readonly degreesOfFreedom: number;
  readonly probability: number;
}

/** A direction of which the others check less than this share is not tested. */
const LEAST_REDUNDANCY = 1e-6;

/**
 * Which tracked point does not fit: each point's residual against that residual's own covariance, a χ² of as many degrees of
 * freedom as the other points check (three, unless few points or weak directions leave less).
 * W. Baarda, *A Testing Procedure for Use in Geodetic Networks*, 1968, for three coordinates at once. The whitened residual has the covariance I − B C Bᵀ.
 */
function testPoints(white: readonly WhitePoint[], covariance: Float64Array): readonly PointTest[] {
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
