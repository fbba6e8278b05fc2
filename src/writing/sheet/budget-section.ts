/** How well the part's pose is known: its six degrees of freedom with their uncertainties, what each source adds, what is unobserved. */

import type { Design } from '../../design/design.ts';
import { withSecondOrder } from '../../metrology/null/figure-error.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { micro, NONE, significant, withMinusSigns } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import { nullWords } from '../report/reported-null-readings.ts';
import { nmWords, type ReportedTest } from '../report/reported-test.ts';

const MICRO = 1e6;
const inUnit = (degree: Degree): string => `${degree}, ${degree.startsWith('r') ? 'µrad' : 'µm'}`;

export function budgetSection({ scenario }: Design, { part, test, order }: Report): Html {
  const { budget, inHologram, sigma, freeMotions, weakest } = part;
  const row = (by: Readonly<Record<Degree, number | null>>): readonly string[] =>
    DEGREES.map((degree) => micro(by[degree]));
  const wanted = DEGREES.map((degree) => {
    const wish = scenario.wanted[degree];
    return wish === undefined ? NONE : significant(wish * (degree.startsWith('r') ? MICRO : UM_PER_MM));
  });
  const allowances = wanted.includes(NONE) ? (test?.allowances ?? null) : null;
  const rows = [
    ['as stated in the scenario', ...row(sigma)],
    ['full budget, against the test wavefront', ...row(budget.combined)],
    ['full budget, against the hologram', ...row(inHologram)],
    ...(wanted.every((wish) => wish === NONE) ? [] : [['wanted', ...wanted]]),
    ...(allowances === null
      ? []
      : [['allowed by the figure, errors independent', ...allowedRow(allowances)]]),
    ...budget.terms.map(({ term, by }) => [html`<span class="term">${term}</span>`, ...row(by)]),
  ];
  return html`<p class="lead">Standard uncertainties of the part’s six degrees of freedom, in the part frame about its origin. Against the test wavefront: what the figure of
the part sees${test === undefined ? ', the null taken to follow the beam as a rigid body' : ''}. Against the hologram: what seats, a tracker and datums see. Below the summary rows: the terms of the
budget against the test wavefront, largest first.</p>
${table(['', ...DEGREES.map(inUnit)], rows, [1, 2, 3, 4, 5, 6])}
${
  freeMotions.length === 0
    ? html`<p>All degrees of freedom are observed.</p>`
    : html`<p>${freeWords(freeMotions, order)}</p>`
}
${
  weakest === null
    ? ''
    : html`<p>Largest uncertainty among the observed motions: ${withMinusSigns(weakest.words)}, ${significant(weakest.sigma)} ${weakest.unit === 'um' ? 'µm' : 'µrad'}.</p>`
}${test === undefined ? '' : html`\n<p>${figureSentence(test.figure_nm)}${allowances === null ? '' : TOGETHER} ${nullSentence(test.nullReadings)}</p>`}`;
}

/** What no fringes observe, and which step of the work sets it all the same. */
function freeWords(freeMotions: readonly string[], order: Report['order']): string {
  const motions = freeMotions.map(withMinusSigns).join(', ');
  const measured = order.find(
    ({ kind, references }) => kind === 'tracker' || (kind === 'seats' && references.length > 0),
  );
  if (measured === undefined || order.some(({ kind }) => kind === 'constrain'))
    return `Nothing in this design constrains these motions of the part; it is free ${motions}. ${NONE} marks a degree of freedom that is not observed: constrain it, or measure it by other means.`;
  return `No fringes show these motions of the part (${NONE} in the table): ${motions}. ${measured.by === 'tracker' ? 'The laser tracker' : 'The measuring machine'} finds them, in step ${measured.step} of the order of work.`;
}

/** What reading the null adds, and what it cannot see by itself. */
function nullSentence(read: ReportedTest['nullReadings']): string {
  const { unobservedAlone } = read;
  const blind =
    unobservedAlone.length === 0
      ? ''
      : ` Alone, the null does not show the part ${unobservedAlone.map(withMinusSigns).join(', ')}.`;
  return `With tilt, power and coma of the null read as well (steer, patch main), the part is known to ${nullWords(read)}, the surface’s own figure allowed for.${blind}`;
}

const TOGETHER =
  ' The table has what that allows each degree if errors are independent; this design’s own go together, and the figure here counts that.';

const allowedRow = (allowances: NonNullable<ReportedTest['allowances']>): readonly string[] =>
  DEGREES.map((degree) => {
    const { allowed, byEye } = allowances[degree];
    return byEye ? 'by eye' : significant(allowed);
  });

/** What misalignment adds to the measured figure, for the operator. */
function figureSentence(figure: ReportedTest['figure_nm']): string {
  const { expected, p95, allowed, mostly, unseen } = figure;
  const limit = allowed === null ? '' : `; ${nmWords(allowed, 3)} is allowed`;
  if (expected === null || p95 === null)
    return `Nothing bounds what misalignment adds to the measured figure: the part is free ${unseen.map(({ words }) => withMinusSigns(words)).join(', ')}${limit}.`;
  const most = mostly === null ? '' : `, mostly by ${mostly}`;
  const whole = withSecondOrder(figure);
  const off =
    whole === undefined
      ? ''
      : ` Until the null of the surface itself shows few fringes it is ${nmWords(whole)} rms: set its tilt and power, too, before measuring.`;
  return `Aligned as this design allows, misalignment adds ${nmWords(expected)} rms to the measured figure${most} (95 %: ${nmWords(p95)})${limit}.${off}`;
}
