/** What the part's place comes to: its six degrees with their uncertainties, what each source adds, and what nothing sees. */
import type { Design } from '../../design/design.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import type { Report } from '../report/report-form.ts';
import { micro, NONE, significant } from './figures.ts';
import { type Html, html, table } from './html.ts';

const MICRO = 1e6;
const inUnit = (degree: Degree): string => `${degree}, ${degree.startsWith('r') ? 'µrad' : 'µm'}`;

export function budgetSection({ scenario }: Design, { part }: Report): Html {
  const { budget, sigma, freeMotions, weakest } = part;
  const row = (by: Readonly<Record<Degree, number | null>>): readonly string[] =>
    DEGREES.map((degree) => micro(by[degree]));
  const wanted = DEGREES.map((degree) => {
    const wish = scenario.wanted[degree];
    return wish === undefined ? NONE : significant(wish * (degree.startsWith('r') ? MICRO : UM_PER_MM));
  });
  const rows = [
    ['by what the scenario states', ...row(sigma)],
    ['with all of the budget', ...row(budget.combined)],
    ...(wanted.every((wish) => wish === NONE) ? [] : [['wanted', ...wanted]]),
    ...budget.terms.map(({ term, by }) => [html`<span class="term">${term}</span>`, ...row(by)]),
  ];
  return html`<p class="lead">Standard uncertainties of the part’s six degrees of freedom, in the part frame about its origin; below the lines that sum up, the terms of the
budget by size.</p>
${table(['', ...DEGREES.map(inUnit)], rows, [1, 2, 3, 4, 5, 6])}
${
  freeMotions.length === 0
    ? html`<p>Every degree of freedom is seen.</p>`
    : html`<p>Nothing here sees that the part is free ${freeMotions.join(', ')}. Where a degree is not observed, ${NONE} stands for it: it has to be held, or measured otherwise.</p>`
}
${
  weakest === null
    ? ''
    : html`<p>Least well known of what is seen: ${weakest.words}, ${significant(weakest.sigma)} ${weakest.unit === 'um' ? 'µm' : 'µrad'}.</p>`
}`;
}
