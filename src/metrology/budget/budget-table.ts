/**
 * A budget over several unknowns as a table: a row for each term, the largest first, a column for each unknown, standard
 * uncertainties in mm and rad; combined by JCGM 100 (budget.ts).
 */
import type { Propagated } from '../../algebra/monte-carlo.ts';
import { combine } from './budget.ts';
import type { Term } from './error-source.ts';

export interface BudgetTable<Name extends string> {
  /** Null where the unknown is not observed. */
  readonly combined: Readonly<Record<Name, number | null>>;
  /** The same by Monte Carlo, with the standard error of its finite number of trials. */
  readonly simulated: Readonly<
    Record<Name, { readonly sigma: number; readonly samplingError: number } | null>
  >;
  readonly trials: number;
  readonly terms: readonly { readonly term: Term; readonly by: Readonly<Record<Name, number | null>> }[];
}

/** A share of an unknown's variance below this is rounding. */
const NEGLIGIBLE = 1e-12;

const totalOf = (variances: ReadonlyMap<Term, Float64Array>, k: number): number =>
  [...variances.values()].reduce((sum, values) => sum + values[k]!, 0);

/**
 * `found`: variances by term; `setting` is the variance of each unknown through what is unobserved, `spread` what Monte Carlo
 * gave for each.
 */
export function budgetTable<Name extends string>(
  names: readonly Name[],
  observed: readonly boolean[],
  found: ReadonlyMap<Term, Float64Array>,
  setting: Float64Array,
  spread: readonly Propagated[],
): BudgetTable<Name> {
  const variances = new Map(found);
  const isFelt = setting.some((variance, k) => observed[k] && variance > NEGLIGIBLE * totalOf(found, k));
  if (isFelt) variances.set('setting by eye', setting);
  const columns = names.map((_, k) =>
    combine(
      0,
      [...variances].map(([term, values]) => {
        const contribution = Math.sqrt(values[k]!);
        return {
          name: term,
          u: contribution,
          degreesOfFreedom: Number.POSITIVE_INFINITY,
          sensitivity: 1,
          contribution,
        };
      }),
    ),
  );
  const share = (term: Term, k: number): number | null =>
    observed[k] ? columns[k]!.contributions.find(({ name }) => name === term)!.contribution : null;
  const byName = <Value>(value: (k: number) => Value): Record<Name, Value> =>
    Object.fromEntries(names.map((name, k) => [name, value(k)])) as Record<Name, Value>;
  // Terms by their largest share of any observed unknown's variance.
  const weight = (term: Term): number =>
    Math.max(0, ...names.map((_, k) => (share(term, k) ?? 0) / (columns[k]!.combined || 1)));
  const terms = [...variances.keys()].sort((a, b) => weight(b) - weight(a));
  return {
    combined: byName((k) => (observed[k] ? columns[k]!.combined : null)),
    simulated: byName((k) => {
      const { u, samplingError } = spread[k] ?? { u: 0, samplingError: 0 };
      return observed[k] ? { sigma: u, samplingError } : null;
    }),
    trials: spread[0]?.trials ?? 0,
    terms: terms.map((term) => ({ term, by: byName((k) => share(term, k)) })),
  };
}
