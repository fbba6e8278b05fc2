/**
 * Where each reference is and how well that is known, mm, substrate frame. What no reading sees is null and named. `sigma` and
 * `covariance` come from what the scenario states; the budget adds, term by term, what common practice says of the rest, and
 * its `combined` is with all of it.
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { type BudgetTable, budgetTable } from '../budget/budget-table.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { directionWords, reducedToAxes } from './free-motion.ts';
import { clean, observedCovariance } from './observed-covariance.ts';
import { estimateReferences, type ReferenceEstimate } from './reference-estimate.ts';
import { REPORT_TRIALS, simulatedSpread } from './simulated-spread.ts';
import { observedOf, SETTING, throughSetting } from './unobserved.ts';

export interface ReferencePosition {
  readonly id: string;
  readonly at: Vec3;
  readonly sigma: Readonly<Record<Axis, number | null>>;
  readonly covariance: readonly (readonly (number | null)[])[];
  /** Principal axes of the error ellipsoid, the longest first; a null σ along what is not observed. */
  readonly ellipsoid: readonly { readonly direction: Vec3; readonly sigma: number | null }[];
  /** Directions that no reading sees, in words, such as `along z`; empty for a datum feature and a return ring, which are no places. */
  readonly unobserved: readonly string[];
  readonly budget: BudgetTable<Axis>;
}

const POSITION_AXES = ['x', 'y', 'z'] as const;
type Axis = (typeof POSITION_AXES)[number];

/** For every reference, in the scenario's order. */
export const referencePositions = (design: Design): readonly ReferencePosition[] =>
  estimateReferences(design).map(reported);

function reported({ reference, readings, stated, full, sources }: ReferenceEstimate): ReferencePosition {
  const { unobserved } = stated;
  const observed = observedOf(unobserved, 3);
  const setting = (i: number, j: number): number => SETTING * SETTING * throughSetting(unobserved, i, j);
  const covariance = observedCovariance(observed, (i, j) => stated.covariance[i * 3 + j]! + setting(i, j));
  const sigma = (i: number): number | null =>
    covariance[i]![i] == null ? null : Math.sqrt(covariance[i]![i]!);
  return {
    id: reference.id,
    at: reference.at,
    sigma: { x: sigma(0), y: sigma(1), z: sigma(2) },
    covariance,
    ellipsoid: ellipsoidOf(stated.covariance, unobserved),
    unobserved: kindOf(reference).inScenario.place === 'given' ? unobservedWords(unobserved) : [],
    budget: budgetTable(
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
): ReferencePosition['ellipsoid'] {
  // The covariance has no part along what is unobserved: those are its eigenvectors of value 0, its last ones.
  const { values, vectors } = symmetricEigen(covariance, 3);
  const seen = 3 - unobserved.length;
  const axis = (v: Float64Array): Vec3 => [clean(v[0]!), clean(v[1]!), clean(v[2]!)];
  return [
    ...unobserved.map((v) => ({ direction: axis(v), sigma: null })),
    ...vectors.slice(0, seen).map((v, k) => {
      return { direction: axis(v), sigma: Math.sqrt(values[k]!) };
    }),
  ];
}
