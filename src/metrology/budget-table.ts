/**
 * A budget over several unknowns as a table: a row for each term, the largest first, a column for each unknown, standard
 * uncertainties in the unit asked for; combined by JCGM 100 (budget.ts).
 */
import { combine } from './budget.ts';
import type { Term } from './error-source.ts';

export interface BudgetTable<Name extends string> {
  /** Null where the unknown is not observed. */
  readonly combined: Readonly<Record<Name, number | null>>;
  readonly terms: readonly { readonly term: Term; readonly by: Readonly<Record<Name, number | null>> }[];
}

/**
 * `found`: variances by term in internal units, `scales` from those to the unit of each column; `setting` is the variance of each
 * unknown through what is unobserved.
 */
export function budgetTable<Name extends string>(
  names: readonly Name[],
  observed: readonly boolean[],
  found: ReadonlyMap<Term, Float64Array>,
  setting: Float64Array,
  scales: readonly number[],
): BudgetTable<Name> {
  const variances = new Map(found);
  if (setting.some((variance) => variance > 0)) variances.set('setting by eye', setting);
  const columns = names.map((_, k) =>
    combine(
      0,
      [...variances].map(([term, values]) => {
        const contribution = Math.sqrt(values[k]!) * scales[k]!;
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
  const byName = (value: (k: number) => number | null): Record<Name, number | null> =>
    Object.fromEntries(names.map((name, k) => [name, value(k)])) as Record<Name, number | null>;
  // Terms by their largest share of any observed unknown's variance.
  const weight = (term: Term): number =>
    Math.max(0, ...names.map((_, k) => (share(term, k) ?? 0) / (columns[k]!.combined || 1)));
  const terms = [...variances.keys()].sort((a, b) => weight(b) - weight(a));
  return {
    combined: byName((k) => (observed[k] ? columns[k]!.combined : null)),
    terms: terms.map((term) => ({ term, by: byName((k) => share(term, k)) })),
  };
}
