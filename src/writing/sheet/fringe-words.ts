/** Steps that are worked by fringes: balls and retroreflectors by what holds them, and the part's own features. */
import type { Design } from '../../design/design.ts';
import { significant } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { Report, ReportedPatch } from '../report/report-form.ts';
import type { ReportedStep } from '../report/reported-order.ts';
import { moverWords } from './reference-words.ts';
import { listed, verb } from './step-lists.ts';

const TITLES: Readonly<Partial<Record<ReportedStep['by'], string>>> = {
  stage: 'References on the stage, by fringes',
  mounts: 'References on mounts of their own, by fringes',
  part: 'References on the part, by fringes',
};

export function fringeWords(step: ReportedStep, design: Design, report: Report): Html {
  const { references, patches, command, by } = step;
  return html`<strong>${TITLES[by] ?? 'References, by fringes'}.</strong> ${listed(references)}: ${moverWords(step, references.length)}.${by === 'mounts' ? towerWords(references.length, report) : ''}
Work from the patches with the fewest fringes per micrometre to those with the most: ${listed(patches)}. At each, go from far off through coarse to one fringe off. If a patch shows no fringes, its reference is out of range: set it by the card again. If there are too many to count,
go back to the patch before in this list, and move so that the fringes open out.
${
  command === null
    ? ''
    : html`Once fringes are counted, ${steerWords(by)}
`
}<br>Done when every patch shows what the table of readings states, and the moves asked for are smaller than their uncertainties. Then go through the list once more: a move for one patch shows in others.${touchCaution(step, design)}`;
}

const steerWords = (by: ReportedStep['by']): Html =>
  html`write the readings of all these patches into a file and run <code>datumlight steer SCENARIO --readings FILE</code>: it prints ${by === 'stage' ? 'the turns of the screws' : by === 'mounts' ? 'the move of each reference' : 'the moves of the references and of the part'}. Make them, read again, and repeat.`;

function towerWords(count: number, { order }: Report): string {
  const tracker = order.find(({ kind }) => kind === 'tracker');
  const them = verb(count, 'It tells', 'They tell');
  return tracker === undefined
    ? ` ${them} nothing of the part.`
    : ` ${them} nothing of the part until the tracker ties it to ${verb(count, 'it', 'them')}, in step ${tracker.step}.`;
}

/** References that lie on datums move with the part only while they touch. */
const touchCaution = ({ references }: ReportedStep, design: Design): string =>
  design.references.some(({ id, touches }) => references.includes(id) && touches.length > 0)
    ? ' Keep the contact of those that sit on datums.'
    : '';

/** The patches that show the part itself: each says what of the part it sees, and what a fringe means. */
export function featureWords(step: ReportedStep, design: Design, report: Report): Html {
  const rings = report.patches.filter(({ id }) => step.patches.includes(id));
  const biased = step.done.some(({ value }) => value !== 0);
  return html`<strong>The part itself, at normal incidence.</strong> The light of ${listed(step.patches)} reflects off the part: ${step.by === 'stage' ? `turn the screws (${listed(step.items)})` : 'move the part'}.
<ul>
${rings.map((ring) => html`<li>${ring.id}: ${shapeWords(ring, design)}${senseWords(ring)}</li>\n`)}</ul>
Straight fringes are tilt or decentre; closed ones are distance. If no fringes are seen, the part is out of the ranges above: set the other references first. If there are too many to count, move so that they widen.
${step.command === null ? '' : html`Readings of these patches also go into <code>datumlight steer</code>. `}<br>Done when ${biased ? 'each shows what the table of readings states' : `${verb(rings.length, 'it', 'each')} is uniform to ${significant(step.done[0]?.within)} fringe, but for the error of the surface itself`}. Then read the other references again.`;
}

/** What the shape of a feature cannot tell. */
function shapeWords({ id }: ReportedPatch, { patches }: Design): string {
  const shape = patches.find((patch) => patch.id === id)?.normalIncidence?.surface.shape;
  switch (shape) {
    case 'plane':
      return 'a plane, which shows tilt alone and no lateral shift; ';
    case 'sphere':
      return 'a sphere, which shows no rotation about its centre: tilt and decentre look the same; ';
    case 'cone':
      return 'a cone, which shows decentre and tilt, and no rotation about its axis; ';
    case 'torus':
      return 'a torus, which shows decentre and tilt, and no rotation about its axis; ';
    default:
      return 'a zone of the surface, on which tilt and decentre look nearly the same, and only its departure from a sphere tells them apart; ';
  }
}

/** Less than a fringe for this much, µm or µrad, is not seen at a bench. */
const UNSEEN = 1e4;

function senseWords({ motion }: ReportedPatch): string {
  if (motion === null) return 'no fringes are counted.';
  const { fringesPerUm, fringesPerUrad, readableRange_um, readableRange_urad } = motion;
  const all = [
    ...Object.entries(fringesPerUm).map(([degree, per]) => ({
      degree,
      per,
      unit: 'µm',
      range: readableRange_um[degree as 'x'],
    })),
    ...Object.entries(fringesPerUrad).map(([degree, per]) => ({
      degree,
      per,
      unit: 'µrad',
      range: readableRange_urad[degree as 'rx'],
    })),
  ];
  const seen = all.filter(({ per }) => per * UNSEEN > 1);
  const blind = all.filter(({ per }) => !(per * UNSEEN > 1)).map(({ degree }) => degree);
  const words = seen.map(
    ({ degree, per, unit, range }) =>
      `${degree} ${significant(1 / per)} ${unit}${range === null ? '' : ` (readable within ${significant(range, 2)})`}`,
  );
  return `one fringe is ${words.join(', ')}${blind.length === 0 ? '' : `; ${listed(blind)} ${verb(blind.length, 'does', 'do')} not show`}.`;
}
