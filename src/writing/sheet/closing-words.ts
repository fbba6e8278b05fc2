/** Steps that check what was set, and the null at the end. */
import type { Design } from '../../design/design.ts';
import { withMinusSigns } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import type { ReportedStep } from '../report/reported-order.ts';
import { nmWords } from '../report/reported-test.ts';
import { limitWords, listed, verb } from './step-lists.ts';

export function clampWords(
  { patches, references, items, done }: ReportedStep,
  design: Design,
  report: Report,
): Html {
  const screens = new Set(report.patches.filter(({ mark }) => mark !== null).map(({ id }) => id));
  const [marks, fringes] = [
    patches.filter((id) => screens.has(id)),
    patches.filter((id) => !screens.has(id)),
  ];
  const by = design.references.some(({ id, cube }) => references.includes(id) && cube !== undefined);
  const again = [
    ...(fringes.length === 0
      ? []
      : [
          `Wait until the fringes are stable, and read ${fringes.length === report.patches.length ? 'every patch' : listed(fringes)} again; none may have changed by more than the table of readings states (twice the standard uncertainty of a difference).`,
        ]),
    ...(marks.length === 0 ? [] : [`Look at the marks of ${listed(marks)} again.`]),
    ...(items.length === 0
      ? []
      : [
          `Measure the lengths again; they may have changed by: ${limitWords(done.filter(({ of }) => items.includes(of)))}.`,
        ]),
    ...(references.length === 0
      ? []
      : [
          `Measure ${listed(references)} again with the ${by && report.order.some(({ kind }) => kind === 'tracker') ? 'tracker' : 'measuring machine'}.`,
        ]),
  ];
  return html`<strong>Clamping.</strong> Clamp the part and what carries the references. ${again.join(' ')}${again.length === 0 ? '' : ' What has changed was moved by clamping: loosen, go back to that step, and clamp again.'} Record all readings.`;
}

export const reseatWords = ({ references }: ReportedStep): Html =>
  html`<strong>Reseating.</strong> Take ${listed(references)} out of ${verb(references.length, 'its nest', 'their nests')} and put ${verb(references.length, 'it', 'each')} back, one after the other, unless bonded, and read ${verb(references.length, 'its', 'their')} patches again. The change shows the nest’s repeatability: more than the table of readings states is dirt, or a worn
nest. Clean it and read again.`;

export function nullWords(_step: ReportedStep, _design: Design, { test }: Report): Html {
  if (test === undefined)
    return html`<strong>The null, last.</strong> Only then record the null of the part itself, and keep the readings with it.`;
  const { expected, p95, allowed } = test.figure_nm;
  const adds =
    expected === null || p95 === null
      ? 'Nothing bounds what misalignment adds to it: see the budget.'
      : `Aligned as this design allows, misalignment adds ${nmWords(expected)} rms to it (95 %: ${nmWords(p95)})${allowed === null ? '' : `; ${nmWords(allowed, 3)} is allowed`}.`;
  const proof =
    test.hidden.length === 0
      ? ''
      : html` A flat null is no proof of alignment: it hardly shows ${verb(test.hidden.length, 'this motion', 'these motions')} of the part: ${listed(test.hidden.map(({ words }) => withMinusSigns(words)))}. Only the readings before it do.`;
  return html`<strong>The null, last.</strong> Only then record the null of surface ${test.surface}, and keep the readings with it; its section has its pictures. ${adds}${proof}`;
}
