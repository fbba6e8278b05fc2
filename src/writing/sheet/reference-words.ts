/** Steps that bring references near: marks, contact, distances and lengths. */
import type { Design } from '../../design/design.ts';
import { carrierOf } from '../../metrology/job/carriers.ts';
import { readableFrom } from '../../metrology/job/reference-steps.ts';
import { EYE_SETTING } from '../../metrology/sensing/sensitivity.ts';
import { VISIBLE } from '../../optics/laser-class.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { NONE, place, places, significant } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import type { Report, ReportedMark } from '../report/report-form.ts';
import type { ReportedCriterion, ReportedStep } from '../report/reported-order.ts';
import { listed, verb } from './step-lists.ts';

/** What to move, by what carries a reference. */
export function moverWords({ by, items }: Pick<ReportedStep, 'by' | 'items'>, count: number): string {
  switch (by) {
    case 'stage':
      return `move the part by its screws (${listed(items)})`;
    case 'mounts':
      return verb(count, 'move its own mount', 'move each by its own mount');
    case 'part':
      return verb(count, 'move the part, not the reference', 'move the part, not the references');
    default:
      return `move what carries ${verb(count, 'it, the part or its own mount', 'them, the part or their own mounts')}: this design does not say which`;
  }
}

export function markWords(step: ReportedStep, design: Design, report: Report): Html {
  const { patches, references, by } = step;
  const [them, targets] = [verb(patches.length, 'it', 'each'), listed(references)];
  const what =
    by === 'mounts'
      ? `${verb(references.length, 'The screen', 'The screens')} ${targets} ${verb(references.length, 'stands on a mount of its own', 'stand on mounts of their own')}: move the mark there onto the light, then leave it.`
      : `${verb(references.length, 'The mark is', 'The marks are')} on ${targets}: ${moverWords(step, references.length)}.`;
  return html`<strong>Coarse, by marks.</strong> Bring the light of ${listed(patches)} onto ${verb(patches.length, 'its mark', 'the marks')}. ${what} ${markSizes(patches, report)}If nothing is seen, ${isVisible(design) ? 'darken the room and' : 'use a viewing card or a camera for this light, and'} follow the light from the hologram; shade a patch to tell its light from other light.<br>
Done when ${them} is on its mark to ${significant(EYE_SETTING.good)} mm.`;
}

const isVisible = ({ light: { wavelength } }: Design): boolean =>
  wavelength >= VISIBLE.from && wavelength <= VISIBLE.to;

/** Marks of one size together. */
function markSizes(patches: readonly string[], { patches: reported }: Report): string {
  const bySize = new Map<string, string[]>();
  for (const { id, mark } of reported) {
    if (mark === null || !patches.includes(id)) continue;
    bySize.set(sizeOf(mark), [...(bySize.get(sizeOf(mark)) ?? []), id]);
  }
  return [...bySize].map(([size, ids]) => `${listed(ids)}: ${size}. `).join('');
}

const sizeOf = ({ shape, widths_um, length_mm }: ReportedMark): string =>
  shape === 'spot'
    ? `a spot of ${significant(Math.max(...widths_um), 2)} µm`
    : `a line of ${significant(Math.max(...widths_um), 2)} µm by ${significant(length_mm, 2)} mm`;

export function touchWords({ references, items }: ReportedStep, design: Design): Html {
  const each = references.map((id) => {
    const { touches } = design.references.find((reference) => reference.id === id)!;
    return html`<li>${id}: against ${listed(touches.map(({ datum }) => datum))}</li>\n`;
  });
  return html`<strong>Contact.</strong> Clean the ${verb(items.length, 'datum surface', 'datum surfaces')} ${listed(items)} and the ${verb(references.length, 'reference that touches', 'references that touch')} ${verb(items.length, 'it', 'them')}, then seat ${verb(references.length, 'it', 'each')} with a steady light force, and check by hand that nothing rocks:
<ul>
${each}</ul>
Contact is kept from now on: a reference that lifts shows as a move of the part.`;
}

export function coarseWords({ references, done, patches }: ReportedStep, design: Design): Html {
  const of = (id: string, quantity: ReportedCriterion['quantity']): number | undefined =>
    done.find((each) => each.of === id && each.quantity === quantity)?.within;
  const rows = references.map((id) => {
    const { at } = design.references.find((reference) => reference.id === id)!;
    const distance = done.find((each) => each.of === id && each.quantity === 'distance');
    return [
      id,
      place(distance?.value ?? Number.POSITIVE_INFINITY),
      ...at.map(place),
      significant((of(id, 'offset') ?? 0) / UM_PER_MM, 2),
    ];
  });
  return html`<strong>Coarse, by a scale and a card.</strong> Set each reference at its distance from the centre of the pattern, to ${significant(EYE_SETTING.poor)} mm. Then find the light of each of its patches on a card there, and set the reference on that spot or line by eye${carriedWords(references, design)}: this is good to
${significant(EYE_SETTING.good)} mm to ${significant(EYE_SETTING.poor)} mm. ${closerWords(patches, design)}
If no light comes back, shade patch after patch to see which light is whose, and move the reference along its light. <br>Done when each is within the distance in the last column and its fringes can be counted.
${table(['Reference', 'Distance, mm', 'x, mm', 'y, mm', 'z, mm', 'Within, mm'], rows, [1, 2, 3, 4, 5])}`;
}

/** What to move for it, where that is not the reference itself. */
function carriedWords(ids: readonly string[], design: Design): string {
  const carried = ids.filter((id) => {
    const reference = design.references.find((each) => each.id === id)!;
    return ['part', 'stage'].includes(carrierOf(design, reference));
  });
  if (carried.length === 0) return '';
  return carried.length === ids.length ? ', by moving the part' : `, ${listed(carried)} by moving the part`;
}

/** Which patches show fringes at once from a setting by eye, and which need a closer one. */
function closerWords(patches: readonly string[], design: Design): string {
  const close = design.patches
    .filter(({ id }) => patches.includes(id))
    .map((patch) => ({ id: patch.id, from: readableFrom(design, patch) }))
    .filter(({ from }) => from < EYE_SETTING.good);
  if (close.length === 0) return 'From there the fringes of every patch are readable.';
  const all = close.length === patches.length;
  return `${all ? 'Every patch needs a closer setting' : `A closer setting is needed for ${listed(close.map(({ id }) => id))}`}: ${verb(close.length, 'its', 'their')} fringes are readable only within ${significant(Math.min(...close.map(({ from }) => from)), 2)} mm. Use the returned light first: it spreads until it fills the patch as the reference nears its position.`;
}

export function lengthWords({ done }: ReportedStep, design: Design): Html {
  const rows = done.map(({ of, value, within, direction }) => {
    const { reference } = design.scenario.measurements.find(({ id }) => id === of)!;
    return [
      of,
      reference,
      direction === null ? NONE : places(direction),
      place(value),
      significant(within * UM_PER_MM),
    ];
  });
  return html`<strong>Lengths measured otherwise.</strong> Measure how far the reference’s centre lies from the centre of the pattern along the direction given: now, before the fringes are worked, and again after each round of them. A longer length than nominal means that the
reference is too far along that direction: take the excess back. <br>Done when each is nominal to its uncertainty.
${table(['Measurement', 'Reference', 'Along', 'Nominal, mm', 'Uncertainty, µm'], rows, [3, 4])}`;
}
