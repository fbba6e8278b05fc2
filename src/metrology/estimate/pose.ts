/**
 * Where the part is and how well that is known, mm and rad, in the part frame, about its origin. What no reading sees is null
 * and named. `sigma` and `covariance` come from what the scenario states; the budget adds, term by term, what common practice
 * says of the rest, and its `combined` is with all of it.
 */
import type { Propagated } from '../../algebra/monte-carlo.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import { length } from '../../geometry/vector.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { type BudgetTable, budgetTable } from '../budget/budget-table.ts';
import { againstHologram, type Term } from '../budget/error-source.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { carriedVariance } from './carried-variance.ts';
import { directionWords, motionOf, wordsFor } from './free-motion.ts';
import { observedCovariance } from './observed-covariance.ts';
import { type PoseEstimate, poseOf } from './pose-estimate.ts';
import { REPORT_TRIALS, simulatedSpread } from './simulated-spread.ts';
import { SETTING, throughSetting } from './unobserved.ts';

interface PartPose {
  readonly sigma: Readonly<Record<Degree, number | null>>;
  /** 6 × 6 in the order x, y, z, rx, ry, rz; null where either degree is not observed. */
  readonly covariance: readonly (readonly (number | null)[])[];
  /** Degrees that are not observed, each by itself. */
  readonly unobserved: readonly Degree[];
  /** What the part is free to do unseen, in words: `to turn about the part's z axis`. */
  readonly freeMotions: readonly string[];
  /** The least well known combination of what is observed; null where nothing is. */
  readonly weakest: { readonly words: string; readonly sigma: number; readonly turns: boolean } | null;
  /** Against the test wavefront. */
  readonly budget: BudgetTable<Degree>;
}

export function partPose(design: Design): PartPose {
  const pose = poseOf(design);
  const { observed } = pose.free;
  const sigma = DEGREES.map((degree, k) => [degree, sigmaOf(pose, k)] as const);
  return {
    sigma: Object.fromEntries(sigma) as Record<Degree, number | null>,
    covariance: observedCovariance(observed, (i, j) => covarianceOf(pose, i, j)),
    unobserved: DEGREES.filter((_, k) => !observed[k]),
    freeMotions: pose.free.motions.map(({ words }) => words),
    weakest: weakestOf(pose),
    budget: budgetTable(
      DEGREES,
      observed,
      pose.full.variances,
      Float64Array.from(DEGREES, (_, k) => settingOf(pose, k, k)),
      spreadOf(pose),
    ),
  };
}

/**
 * The combined standard uncertainty of the same part against the hologram's own frame, in which seats, a tracker and datums are seen: found
 * from the same readings by the same weights. mm and rad; null where not observed.
 */
export function inHologramOf(pose: PoseEstimate): Readonly<Record<Degree, number | null>> {
  const { readings, full, sources, free } = pose;
  const u = Float64Array.from(readings, (reading) => reading.u);
  const variances = carriedVariance(full.gains, u, againstHologram(sources));
  const sigma = DEGREES.map(
    (degree, k) =>
      [degree, free.observed[k] ? Math.sqrt(variances[k]! + settingOf(pose, k, k)) : null] as const,
  );
  return Object.fromEntries(sigma) as Record<Degree, number | null>;
}

/** σ of one degree by what the scenario states, mm or rad; null where not observed. */
export const sigmaOf = (pose: PoseEstimate, degree: number): number | null =>
  pose.free.observed[degree] ? Math.sqrt(covarianceOf(pose, degree, degree)) : null;

/** The same with every term of the budget, by common practice where the scenario says nothing. */
export const combinedSigmaOf = (pose: PoseEstimate, degree: number): number | null =>
  pose.free.observed[degree]
    ? Math.sqrt(pose.full.covariance[degree * 7]! + settingOf(pose, degree, degree))
    : null;

/** Variances of one degree by term, the largest first, what no reading sees and the eye sets among them; mm² or rad². */
export const variancesByTerm = (pose: PoseEstimate, degree: number): readonly (readonly [Term, number])[] =>
  [
    ...[...pose.full.variances].map(([term, values]) => [term, values[degree]!] as const),
    ['setting by eye', settingOf(pose, degree, degree)] as const,
  ].sort(([, a], [, b]) => b - a);

/** mm and rad. */
const covarianceOf = (pose: PoseEstimate, i: number, j: number): number =>
  pose.stated.covariance[i * 6 + j]! + settingOf(pose, i, j);

function settingOf({ free, size }: PoseEstimate, i: number, j: number): number {
  const lever = (degree: number): number => (degree < 3 ? 1 : size);
  return (SETTING * SETTING * throughSetting(free.basis, i, j)) / (lever(i) * lever(j));
}

/** What no reading sees, in mm and rad for 1 mm of it at the part's size. */
export const freeMoves = ({ free, size }: PoseEstimate): readonly Float64Array[] =>
  free.basis.map((motion) => motion.map((part, degree) => (degree < 3 ? part : part / size)));

const spreadOf = (pose: PoseEstimate): readonly Propagated[] =>
  simulatedSpread({
    gains: pose.full.gains,
    u: Float64Array.from(pose.readings, ({ u }) => u),
    sources: pose.sources,
    free: freeMoves(pose),
    reach: EYE_SETTING.poor,
    trials: REPORT_TRIALS,
    seed: 'part',
  });

/** The longest axis of the error ellipsoid, rotations counted at the part's size, across what is free. */
function weakestOf({ free, size, stated }: PoseEstimate): PartPose['weakest'] {
  if (free.basis.length === 6) return null;
  const lever = [1, 1, 1, size, size, size];
  const scaled = stated.covariance.map((entry, at) => entry * lever[Math.floor(at / 6)]! * lever[at % 6]!);
  const across = projector(free.basis);
  const { values, vectors } = symmetricEigen(sandwich(across, scaled), 6);
  const sigma = Math.sqrt(Math.max(0, values[0]!));
  const motion = motionOf(vectors[0]!, size);
  const turn = length(motion.rotation);
  const way = length(motion.translation);
  return turn * size < way
    ? {
        words: `moving along ${directionWords(motion.translation)}`,
        sigma: sigma * way,
        turns: false,
      }
    : {
        words: wordsFor(motion, size).replace(/^to turn/, 'turning'),
        sigma: sigma * turn,
        turns: true,
      };
}

/** I − Σ b bᵀ. */
function projector(basis: readonly Float64Array[]): Float64Array {
  const matrix = new Float64Array(36);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++) {
      matrix[i * 6 + j] = basis.reduce((sum, b) => sum - b[i]! * b[j]!, i === j ? 1 : 0);
    }
  }
  return matrix;
}

/** P C P. */
function sandwich(p: Float64Array, c: Float64Array): Float64Array {
  const times = (a: Float64Array, b: Float64Array): Float64Array =>
    a.map((_, at) => {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += a[Math.floor(at / 6) * 6 + k]! * b[k * 6 + (at % 6)]!;
      return sum;
    });
  return times(times(p, c), p);
}
