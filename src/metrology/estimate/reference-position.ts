/**
 * Where each reference is and how well that is known, as reports give it: µm, substrate frame. What no reading sees is null
 * and named. `sigma_um` and `covariance_um2` come from what the scenario states; the budget adds, term by term, what common
 * practice says of the rest, and `combined_um` is with all of it.
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { returnsFocus } from '../../scenario/scenario.ts';
import { type BudgetTable, budgetTable } from '../budget/budget-table.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { directionWords, reducedToAxes } from './free-motion.ts';
import { estimateReferences, type ReferenceEstimate } from './reference-estimate.ts';
import { clean, reportedCovariance } from './reported-covariance.ts';
import { REPORT_TRIALS, simulatedSpread } from './simulated-spread.ts';
import { observedOf, SETTING, throughSetting } from './unobserved.ts';

export interface ReferencePosition {
  readonly id: string;
  readonly at: Vec3;
  readonly sigma_um: Readonly<Record<Axis, number | null>>;
  readonly covariance_um2: readonly (readonly (number | null)[])[];
  /** Principal axes of the error ellipsoid, the longest first; a null σ along what is not observed. */
  readonly ellipsoid: readonly { readonly direction: Vec3; readonly sigma_um: number | null }[];
  /** Directions that no reading sees, in words, such as `along z`; empty for a datum feature and a return ring, which are no places. */
  readonly unobserved: readonly string[];
  readonly budget_um: BudgetTable<Axis>;
}

const POSITION_AXES = ['x', 'y', 'z'] as const;
type Axis = (typeof POSITION_AXES)[number];

/** For every reference, in the scenario's order. */
export const referencePositions = (design: Design): readonly ReferencePosition[] =>
  estimateReferences(design).map(reported);

function reported({ reference, readings, stated, full, sources }: ReferenceEstimate): ReferencePosition {
  const { unobserved, covariance } = stated;
  const observed = observedOf(unobserved, 3);
  const setting = (i: number, j: number): number => SETTING * SETTING * throughSetting(unobserved, i, j);
  const um2 = reportedCovariance(
    observed,
    (i, j) => covariance[i * 3 + j]! + setting(i, j),
    POSITION_AXES.map(() => UM_PER_MM),
  );
  const sigma = (i: number): number | null => (um2[i]![i] == null ? null : Math.sqrt(um2[i]![i]!));
  return {
    id: reference.id,
    at: reference.at,
    sigma_um: { x: sigma(0), y: sigma(1), z: sigma(2) },
    covariance_um2: um2,
    ellipsoid: ellipsoidOf(covariance, unobserved),
    unobserved:
      returnsFocus(reference.kind) || reference.kind === 'screen' ? unobservedWords(unobserved) : [],
    budget_um: budgetTable(
      POSITION_AXES,
      observed,
      full.variances,
      Float64Array.from([0, 1, 2], (i) => setting(i, i)),
      simulatedSpread({
        gains: full.gains,
        u: Float64Array.from(readings, ({ u }) => u),
        sources,
        free: unobserved,
        reach: EYE_SETTING.poor,
        trials: REPORT_TRIALS,
        seed: `reference ${reference.id}`,
      }),
      [UM_PER_MM, UM_PER_MM, UM_PER_MM],
    ),
  };
}

/** Directions of an orthonormal basis as words, brought to the axes as far as it goes: `along z`. */
export const unobservedWords = (basis: readonly Float64Array[]): readonly string[] =>
  reducedToAxes(
    basis.map((v) => [...v]),
    [0, 1, 2],
  ).map((v) => `along ${directionWords([v[0]!, v[1]!, v[2]!])}`);

function ellipsoidOf(
  covariance: Float64Array,
  unobserved: readonly Float64Array[],
): readonly { direction: Vec3; sigma_um: number | null }[] {
  // The covariance has no part along what is unobserved: those are its eigenvectors of value 0, its last ones.
  const { values, vectors } = symmetricEigen(covariance, 3);
  const seen = 3 - unobserved.length;
  const axis = (v: Float64Array): Vec3 => [clean(v[0]!), clean(v[1]!), clean(v[2]!)];
  return [
    ...unobserved.map((v) => ({ direction: axis(v), sigma_um: null })),
    ...vectors.slice(0, seen).map((v, k) => {
      return { direction: axis(v), sigma_um: Math.sqrt(values[k]!) * UM_PER_MM };
    }),
  ];
}
