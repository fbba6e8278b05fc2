/** Steps of a measuring machine and of a tracker, and what is left to other means. */
import type { Design } from '../../design/design.ts';
import { EYE_SETTING } from '../../metrology/sensing/sensitivity.ts';
import { significant, withMinusSigns } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import type { ReportedStep } from '../report/reported-order.ts';
import { limitWords, listed, verb } from './step-lists.ts';

export function seatWords(
  { by, items, references, done }: ReportedStep,
  _design: Design,
  report: Report,
): Html {
  const isSeat = new Set(items);
  const ofSeats = done.filter(({ of }) => isSeat.has(of));
  const ofPart = done.filter(({ of }) => !isSeat.has(of));
  const fixed = report.seatFrame !== null && report.seatFrame.freeMotions.length === 0;
  return html`<strong>Seats on the glass.</strong> Measure the centres of ${listed(items)} with a ${by === 'tracker' ? 'laser tracker (an SMR in each nest in turn)' : 'measuring machine'} and fit them to the table of seats: ${limitWords(ofSeats)}. A larger misfit is a seat that moved, or a point taken on the wrong side.
${fixed ? '' : `These seats leave the hologram’s frame free ${report.seatFrame?.freeMotions.map(withMinusSigns).join(', ') ?? ''}: they check its place and do not carry it. `}${
  references.length === 0
    ? ''
    : `In the frame that they give, measure the centres of ${listed(references)} on the part, and move the part until they are at the positions in the table of references. Nothing shows fringes there. Done when each is in place: ${limitWords(ofPart)}, which is as well as the seats carry the frame.`
}`;
}

export function trackerWords({ items, references, done }: ReportedStep, design: Design): Html {
  const part = items.filter((_, k) =>
    design.patches.every(({ reference }) => reference.id !== references[k]),
  );
  const hologram = items.filter((point) => !part.includes(point));
  return html`<strong>The part, by laser tracker.</strong> No patch looks at ${listed(part)}: no fringes are seen there, and the tracker finds the part from them. Without moving the tracker, measure in this order: first those at their foci, ${listed(hologram)}; then those on the part, ${listed(part)};
then ${hologram[0]} again, which must repeat, or the tracker has drifted: measure all again.
Write them into a table with these names and run <code>datumlight transfer SCENARIO --points FILE</code>: it prints the part’s six errors and their uncertainties. Move the part by their opposite, measure the points on the part again, and repeat.
If a point is not found, or the fit rejects it, clean and reseat its SMR. <br>Done when ${done.length === 0 ? 'the errors are smaller than their uncertainties' : `the errors are within ${limitWords(done)}`}.`;
}

export function constrainWords({ items }: ReportedStep, _design: Design, { test, order }: Report): Html {
  const marked = order.some(({ kind, by }) => kind === 'marks' && by !== 'mounts');
  const [it, these] = [verb(items.length, 'it', 'them'), verb(items.length, 'this motion', 'these motions')];
  return html`<strong>What no reading shows.</strong> ${marked ? `Nothing but the marks, which are set by eye to ${significant(EYE_SETTING.good)} mm,` : 'Nothing in this design'} tells whether the part is displaced in ${these}; it is free ${listed(items.map(withMinusSigns))}. Constrain ${it} or measure ${it} by other means before you clamp.${test === undefined ? '' : ' The table of motions states which of them the measured figure shows.'}`;
}
