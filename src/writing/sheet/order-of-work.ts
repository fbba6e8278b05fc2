/** The order of work at the bench, with the design's own references and figures in it. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { EYE_SETTING, type Sense, sensesOf } from '../../metrology/sensing/sensitivity.ts';
import type { Reference } from '../../scenario/scenario.ts';
import type { Report } from '../report/report-form.ts';
import { significant } from './figures.ts';
import { type Html, html } from './html.ts';

export function orderOfWork(design: Design, { part }: Report): Html {
  const { references, scenario, glass } = design;
  const steps: Html[] = [
    html`<strong>Hologram to interferometer.</strong> Mount the hologram with its pattern toward the ${scenario.substrate.patternFaces}${glass.thickness === 0 ? '' : html`, so that the light crosses the glass ${glass.side} the pattern`}.
Centre it in the beam by its outline, then ${straightBack(design)} What is left moves part and references alike. Check on the camera that every patch stands where the drawing shows it and is lit to its edge.`,
    html`<strong>Coarse, by eye.</strong> ${screenWords(design)}
${catchWords(design)}`,
    html`<strong>References, patch by patch.</strong> ${patchByPatch(design)}`,
    html`<strong>Part.</strong> ${partWords(references)}${featureWords(design)}${part.unobserved.length === 0 ? '' : html` The fringes of this design do not see ${part.unobserved.join(', ')} of the part: hold or measure them otherwise before you clamp.`}`,
    html`<strong>Verification.</strong> Clamp, wait until the fringes stand still, and read every patch again; write the readings down. Take each reference off and set it back once: what the reading changes by
tells what the seat repeats to. ${scenario.measurements.length === 0 ? '' : html`Read ${scenario.measurements.map(({ id }) => id).join(', ')}, which ${scenario.measurements.length === 1 ? 'is' : 'are'} measured otherwise. `}Only then take the null of the part itself, and keep the readings with it.`,
  ];
  return html`<ol>
${steps.map((step) => html`<li>${step}</li>\n`)}</ol>`;
}

/** What shows how the hologram lies to the interferometer, and what to bring it to. */
function straightBack(design: Design): string {
  const rings = patchesReadBy(design, 'alignment');
  if (rings.length === 0 && !nullsOnReflection(design))
    return 'set its tilt and its place along the beam by a scale or an indicator: no return ring shows them, and the reflection of a flat plate has no null in this beam.';
  const few =
    'to as few fringes as the mount allows; a couple of fringes over the whole aperture do no harm.';
  if (rings.length === 0) return `bring the light that it sends straight back (its reflection) ${few}`;
  return `bring the light that it sends straight back (${namesOf(rings)}) ${isBiased(rings) ? 'to the fringes that its section states and no more.' : few}`;
}

/** Whether the beam meets the plate square on all over. */
function nullsOnReflection({ scenario: { interferometer } }: Design): boolean {
  const { beam } = interferometer;
  return beam.kind === 'collimated' && Math.hypot(beam.direction[0], beam.direction[1]) < SQUARE_ON;
}

/** Radians: under a fringe of tilt over any aperture. */
const SQUARE_ON = 1e-6;

function screenWords(design: Design): string {
  const patches = patchesReadBy(design, 'mark');
  if (patches.length === 0) return 'There is no target screen in this design.';
  const screens = [...new Set(patches.map(({ reference }) => reference.id))].join(', ');
  return `Bring the spot or cross of ${namesOf(patches)} to the mark on ${screens}.`;
}

/** How to come near to the references, which patches show fringes at once then, and which need a closer setting first. */
function catchWords(design: Design): Html {
  const readable = design.patches.flatMap((patch) => {
    const ranges = tiltsOf(sensesOf(design, patch)).map(({ captureRange }) => captureRange);
    return ranges.length === 0 ? [] : [{ id: patch.id, from: Math.min(...ranges) }];
  });
  if (readable.length === 0) return html``;
  const close = readable.filter(({ from }) => from < EYE_SETTING.good);
  const setting = html`Then catch the light of each patch on a card at its reference and set the reference on its spot or line: an eye does it to ${EYE_SETTING.good} mm to ${EYE_SETTING.poor} mm.`;
  if (close.length === 0) return html`${setting} The fringes of every patch can be read from there.`;
  return html`${setting}
Closer than that the camera needs ${namesOf(close)}: fringes are readable there from ${significant(Math.min(...close.map(({ from }) => from)), 2)} mm. Use the spot itself first: the
light that comes back grows and fills the patch as the reference nears its place.`;
}

function patchByPatch(design: Design): string {
  const seen = design.patches.flatMap((patch) => {
    const [first] = tiltsOf(sensesOf(design, patch));
    return first === undefined ? [] : [{ id: patch.id, fringesPerMm: first.fringesPerMm }];
  });
  if (seen.length === 0) return 'No ball and no retroreflector of this design shows fringes.';
  // The scenario's order where there is nothing to choose between two.
  const rounded = (fringesPerMm: number): number => Number(fringesPerMm.toPrecision(SAME_DIGITS));
  const sorted = seen.toSorted((a, b) => rounded(a.fringesPerMm) - rounded(b.fringesPerMm));
  return (
    `Work from the patches with few fringes per micrometre to those with many: ${namesOf(sorted)}. At each, count down from far off to ` +
    'coarse to one fringe, and stop as its section says. After all are done, go round once more: a move for one patch shows in the others of the same reference.'
  );
}

function partWords(references: readonly Reference[]): string {
  const touching = references.filter(({ touches }) => touches.length > 0);
  return touching.length === 0
    ? 'The references of this design are not tied to the part’s datums: bring the part to them by what holds them.'
    : `${touching.map(({ id }) => id).join(', ')} sit on the part’s datums: move the part, with them in contact, until their patches show what their sections say.`;
}

/** The patches that look at the part itself: a plane tells nothing of its place across, a sphere nothing of a turn about its centre. */
function featureWords(design: Design): string {
  const square = patchesReadBy(design, 'modes');
  if (square.length === 0) return '';
  const shapeOf = (patch: DesignedPatch): string | undefined => patch.normalIncidence?.surface.shape;
  const todo = [
    ['centre it by', square.filter((patch) => shapeOf(patch) !== 'plane')],
    ['take out its tilt by', square.filter((patch) => shapeOf(patch) !== 'sphere')],
  ] as const;
  const words = todo.flatMap(([verb, patches]) =>
    patches.length === 0 ? [] : `${verb} ${namesOf(patches)}`,
  );
  const until = isBiased(square)
    ? 'their fringes are those that their sections state'
    : 'their fringes are as few as they can be';
  return ` Light of ${namesOf(square)} meets the part itself: ${words.join(' and ')} until ${until}.`;
}

const patchesReadBy = ({ patches }: Design, way: Parameters<typeof isReadBy>[1]): readonly DesignedPatch[] =>
  patches.filter(({ reference }) => isReadBy(reference, way));

const isBiased = (patches: readonly DesignedPatch[]): boolean =>
  patches.some(({ bias }) => bias !== undefined);

const tiltsOf = (senses: readonly Sense[]): readonly Sense[] => senses.filter(({ kind }) => kind === 'tilt');

/** Names in a sentence; beyond so many the table has them. */
const MOST_NAMED = 12;
const namesOf = (patches: readonly { readonly id: string }[]): string =>
  patches
    .slice(0, MOST_NAMED)
    .map(({ id }) => id)
    .join(', ') + (patches.length > MOST_NAMED ? ` and ${patches.length - MOST_NAMED} more` : '');
/** Sensitivities that agree to so many digits are one. */
const SAME_DIGITS = 3;
