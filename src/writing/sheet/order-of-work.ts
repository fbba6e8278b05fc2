/** The order of work at the bench, with the design's own references and figures in it. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { nameList } from '../../finding/name-list.ts';
import { isReadBy, kindOf } from '../../kinds/kinds.ts';
import { inOrderOfWork } from '../../metrology/sensing/order-of-work.ts';
import { EYE_SETTING, type Sense, sensesOf } from '../../metrology/sensing/sensitivity.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { significant } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';

export function orderOfWork(design: Design, { part }: Report): Html {
  const { references, scenario, glass } = design;
  const steps: Html[] = [
    html`<strong>Hologram to interferometer.</strong> Mount the hologram with its pattern toward the ${scenario.substrate.patternFaces}${glass.thickness === 0 ? '' : html`, so that the light crosses the glass ${glass.side} the pattern`}.
Centre it in the beam by its outline, then ${straightBack(design)} What misalignment remains moves references and test wavefront by different amounts; the budget counts the difference. Check on the camera that every patch is where the drawing shows it and is illuminated to its edge.`,
    html`<strong>Coarse, by eye.</strong> ${screenWords(design)}
${catchWords(design)}`,
    html`<strong>References, patch by patch.</strong> ${patchByPatch(design)}`,
    html`<strong>Part.</strong> ${partWords(references)}${featureWords(design)}${part.unobserved.length === 0 ? '' : html` The fringes of this design do not observe ${part.unobserved.join(', ')} of the part: constrain or measure ${part.unobserved.length === 1 ? 'it' : 'them'} by other means before you clamp.`}`,
    html`<strong>Verification.</strong> Clamp, wait until the fringes are stable, then read every patch again and record the readings. Remove and replace each reference once: the change
shows the seat’s repeatability. ${scenario.measurements.length === 0 ? '' : html`Read ${scenario.measurements.map(({ id }) => id).join(', ')}, which ${scenario.measurements.length === 1 ? 'is' : 'are'} measured by other means. `}Only then record the null of the part itself, and keep the readings with it.`,
  ];
  return html`<ol>
${steps.map((step) => html`<li>${step}</li>\n`)}</ol>`;
}

/** What shows how the hologram is aligned to the interferometer, and what it shows when aligned. */
function straightBack(design: Design): string {
  const rings = patchesReadBy(design, 'alignment');
  if (rings.length === 0 && !nullsOnReflection(design))
    return 'set its tilt and its position along the beam with a scale or an indicator: this design has no return ring, and the reflection of a flat plate has no null in this beam.';
  const few = 'as few as the mount allows; a couple of fringes over the full aperture do no harm.';
  if (rings.length === 0) return `align it until the fringes of its reflection are ${few}`;
  return `align it until the fringes of the return ring (${namesOf(rings)}) are ${isBiased(rings) ? 'those that its section states, and no more.' : few}`;
}

/** Whether the beam meets the plate at normal incidence everywhere. */
function nullsOnReflection({ scenario: { interferometer } }: Design): boolean {
  const { beam } = interferometer;
  return beam.kind === 'collimated' && Math.hypot(beam.direction[0], beam.direction[1]) < NORMAL;
}

/** Radians: under a fringe of tilt over any aperture. */
const NORMAL = 1e-6;

function screenWords(design: Design): string {
  const patches = patchesReadBy(design, 'mark');
  if (patches.length === 0) return 'This design has no target screen.';
  const screens = [...new Set(patches.map(({ reference }) => reference.id))].join(', ');
  return `Bring the spot or cross of ${namesOf(patches)} to the mark on ${screens}.`;
}

/** How to come near to the references, which patches show fringes at once then, and which need a closer setting first. */
function catchWords(design: Design): Html {
  const readable = design.patches.flatMap((patch) => {
    const ranges = tiltsOf(sensesOf(design, patch)).map(({ readableRange }) => readableRange);
    return ranges.length === 0 ? [] : [{ id: patch.id, from: Math.min(...ranges) }];
  });
  if (readable.length === 0) return html``;
  const close = readable.filter(({ from }) => from < EYE_SETTING.good);
  const setting = html`Then find the light of each patch on a card at its reference and set the reference on that spot or line by eye: this is good to ${EYE_SETTING.good} mm to ${EYE_SETTING.poor} mm.`;
  if (close.length === 0) return html`${setting} From there the fringes of every patch are readable.`;
  return html`${setting}
A closer setting is needed for ${namesOf(close)}: their fringes are readable only within ${significant(Math.min(...close.map(({ from }) => from)), 2)} mm. Use the returned light first: it
spreads until it fills the patch as the reference nears its position.`;
}

function patchByPatch(design: Design): string {
  const sorted = inOrderOfWork(design).filter((patch) => tiltsOf(sensesOf(design, patch)).length > 0);
  if (sorted.length === 0) return 'No ball or retroreflector in this design shows fringes.';
  return (
    `Work from the patches with the fewest fringes per micrometre to those with the most: ${namesOf(sorted)}. At each, go from far off through ` +
    'coarse to one fringe off, and stop as its section states. When all are done, repeat once: a move for one patch also shows in the others of the same reference.'
  );
}

function partWords(references: readonly Reference[]): string {
  const placed = references.filter(
    (reference) => kindOf(reference).inScenario.place === 'given' && !isReadBy(reference, 'mark'),
  );
  const carried = (by: Reference['movesWith']) =>
    placed.filter(({ touches, movesWith }) => touches.length === 0 && movesWith === by);
  const say = (some: readonly Reference[], one: string, more: string): readonly string[] =>
    some.length === 0 ? [] : [`${namesOf(some)} ${some.length === 1 ? one : more}`];
  const sentences = [
    ...say(
      placed.filter(({ touches }) => touches.length > 0),
      'sits on the part’s datums: keep contact and move the part until its patches show what their sections state.',
      'sit on the part’s datums: keep contact and move the part until their patches show what their sections state.',
    ),
    ...say(
      carried('part'),
      'is fixed to the part: move the part, not the reference.',
      'are fixed to the part: move the part, not the references.',
    ),
    ...say(
      carried('mount'),
      'stands on a mount of its own: set it by its mount; it tells nothing of the part until a tracker ties the part to it.',
      'stand on mounts of their own: set each by its mount; they tell nothing of the part until a tracker ties the part to them.',
    ),
    ...say(
      carried(undefined),
      'is fixed to the part or stands on a mount of its own, which this design does not say: move the part in the first case, the mount in the other.',
      'are fixed to the part or stand on mounts of their own, which this design does not say: move the part in the first case, the mounts in the other.',
    ),
  ];
  return sentences.length === 0 ? 'No reference of this design stands on the part.' : sentences.join(' ');
}

/** The patches that show the part itself: a plane does not show a lateral shift, a sphere no rotation about its centre. */
function featureWords(design: Design): string {
  const square = patchesReadBy(design, 'modes');
  if (square.length === 0) return '';
  const shapeOf = (patch: DesignedPatch): string | undefined => patch.normalIncidence?.surface.shape;
  const todo = [
    ['centre the part using', square.filter((patch) => shapeOf(patch) !== 'plane')],
    ['remove its tilt using', square.filter((patch) => shapeOf(patch) !== 'sphere')],
  ] as const;
  const words = todo.flatMap(([verb, patches]) =>
    patches.length === 0 ? [] : `${verb} ${namesOf(patches)}`,
  );
  const until = isBiased(square)
    ? 'the fringes are those that their sections state'
    : 'the fringes are as few as possible';
  return ` The light of ${namesOf(square)} reflects off the part itself: ${words.join(' and ')} until ${until}.`;
}

const patchesReadBy = ({ patches }: Design, way: Parameters<typeof isReadBy>[1]): readonly DesignedPatch[] =>
  patches.filter(({ reference }) => isReadBy(reference, way));

const isBiased = (patches: readonly DesignedPatch[]): boolean =>
  patches.some(({ bias }) => bias !== undefined);

const tiltsOf = (senses: readonly Sense[]): readonly Sense[] => senses.filter(({ kind }) => kind === 'tilt');

/** Names in a sentence; beyond so many the table has them. */
const MOST_NAMED = 12;
const namesOf = (patches: readonly { readonly id: string }[]): string =>
  nameList(
    patches.map(({ id }) => id),
    MOST_NAMED,
  );
