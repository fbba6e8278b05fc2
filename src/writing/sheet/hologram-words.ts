/** Steps that set the hologram: into its mount, and to the beam. */
import type { Design } from '../../design/design.ts';
import { significant } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { Report, ReportedPatch } from '../report/report-form.ts';
import type { ReportedStep } from '../report/reported-order.ts';
import { listed, withinWords } from './step-lists.ts';

export const mountWords = (_step: ReportedStep, { scenario, glass }: Design): Html =>
  html`<strong>Hologram into its mount.</strong> Mount the hologram with its pattern toward the ${scenario.substrate.patternFaces}${glass.thickness === 0 ? '' : html`, so that the light crosses the glass ${glass.side} the pattern`}. Centre it in the beam by its outline.
Compare the camera’s picture with the drawing of the hologram below: every patch must be where the drawing shows it, and illuminated to its edge. Settle there which way the camera is turned, before the first move.`;

export function hologramWords(step: ReportedStep, _design: Design, report: Report): Html {
  switch (step.by) {
    case 'return ring':
      return ringWords(step, report);
    case 'reflection':
      return html`<strong>Hologram to the beam, by its own reflection.</strong> Tilt the hologram until its reflection returns to the interferometer and shows fringes, then until they are few. ${nothingSeen}<br>
${doneBy(step, report)}`;
    case 'seats':
      return html`<strong>Hologram to the beam, by its seats.</strong> Measure the centres of ${listed(step.items)} with a measuring machine or a tracker in a frame tied to the beam’s focus and axis, and move the hologram until they
are at the positions in the table of seats. ${placedWords(step)}`;
    default:
      return html`<strong>Hologram to the beam, by a scale or an indicator.</strong> Set its tilt and its position by measurement: this design has no return ring, and the reflection of a flat plate has no null in this beam. ${placedWords(step)}`;
  }
}

const nothingSeen =
  'If no fringes are seen, find the returned spot on a card at the interferometer’s exit and bring it onto the outgoing beam. If there are too many to count, the tilt is coarse: work toward wider fringes.';

function ringWords(step: ReportedStep, report: Report): Html {
  const rings = report.patches.filter(({ id }) => step.patches.includes(id));
  const biased = step.done.some(({ of }) => of !== 'beam');
  return html`<strong>Hologram to the beam, by its return ring.</strong> Align the hologram with the fringes of ${listed(step.patches)}: straight fringes are tilt or decentre, closed fringes are distance. ${rings.map((ring) => perFringe(ring))}${nothingSeen}<br>
${biased ? html`Done when ${listed(step.done.map(({ of, value, within }) => `${of} shows ${significant(value)} ± ${significant(within)} fringes`))}.` : doneBy(step, report)}`;
}

/** What a fringe of a ring means for the hologram; a figure without meaning is left out. */
function perFringe({ id, motion }: ReportedPatch): string {
  if (motion === null) return '';
  const { rx, ry } = motion.fringesPerUrad;
  const { x, y, z } = motion.fringesPerUm;
  const each = (fringes: number, unit: string, of: string): string[] =>
    fringes > 0 ? [`${significant(1 / fringes)} ${unit} ${of}`] : [];
  const words = [
    ...each(Math.max(rx, ry), 'µrad', 'of tilt'),
    ...each(Math.max(x, y), 'µm', 'across the beam'),
    ...each(z, 'µm', 'along it'),
  ];
  return words.length === 0 ? '' : `One fringe over ${id} is ${words.join(', ')}. `;
}

function doneBy({ done: [few] }: ReportedStep, { hologram: { harmlessTilt } }: Report): string {
  const within = significant(few?.within, 2);
  const harm =
    harmlessTilt === null
      ? ''
      : ` More than ${significant(harmlessTilt.fringes, 2)} would move a reference against the test wavefront by more than one reading resolves, first of all in ${harmlessTilt.limitedBy}.`;
  return `Done when no more than ${within} straight fringes of tilt are left over the whole beam, and no closed ones.${harm} The budget counts what remains.`;
}

const placedWords = ({ done }: ReportedStep): string =>
  `The budget counts on these standard uncertainties: ${listed(done.map(withinWords))}.`;
