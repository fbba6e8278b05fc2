/** The order of work at the bench, with the design's own references and figures in it. */
import type { Design } from '../../design/design.ts';
import { EYE_SETTING, type Sense, sensesOf } from '../../metrology/sensitivity.ts';
import { type Reference, returnsFocus } from '../../scenario/scenario.ts';
import { significant } from './figures.ts';
import { type Html, html } from './html.ts';
import type { Reported } from './reported.ts';

export function orderOfWork(design: Design, { part }: Reported): Html {
  const { references, scenario, glass } = design;
  const screens = references.filter(({ kind }) => kind === 'screen').map(({ id }) => id);
  const steps: Html[] = [
    html`<strong>Hologram to interferometer.</strong> Mount the hologram with its pattern toward the ${scenario.substrate.patternFaces}${glass.thickness === 0 ? '' : html`, so that the light crosses the glass ${glass.side} the pattern`}.
Centre it in the beam by its outline, then bring the light that it sends straight back ${straightBack(design)} to as few fringes as the mount allows. A couple of
fringes over the whole aperture do no harm; what is left moves part and references alike. Check on the camera that every patch stands where the drawing shows it and is lit to its edge.`,
    html`<strong>Coarse, by eye.</strong> ${screens.length === 0 ? 'There is no target screen in this design.' : html`Bring the spot or cross of the patches to the mark on ${screens.join(', ')}.`}
Then catch the light of each patch on a card at its reference and set the reference on its spot or line: an eye does it to ${EYE_SETTING.good} mm to ${EYE_SETTING.poor} mm.
${catchWords(design)}`,
    html`<strong>References, patch by patch.</strong> Work from the patches with few fringes per micrometre to those with many: ${sequence(design)}. At each, count
down from far off to coarse to one fringe, and stop as its section says. After all are done, go round once more: a move for one patch shows in the others of the same reference.`,
    html`<strong>Part.</strong> ${partWords(references)}${squareWords(design)}${part.unobserved.length === 0 ? '' : html` The fringes of this design do not see ${part.unobserved.join(', ')} of the part: hold or measure them otherwise before you clamp.`}`,
    html`<strong>Verification.</strong> Clamp, wait until the fringes stand still, and read every patch again; write the readings down. Take each reference off and set it back once: what the reading changes by
tells what the seat repeats to. ${scenario.measurements.length === 0 ? '' : html`Read ${scenario.measurements.map(({ id }) => id).join(', ')}, which ${scenario.measurements.length === 1 ? 'is' : 'are'} measured otherwise. `}Only then take the null of the part itself, and keep the readings with it.`,
  ];
  return html`<ol>
${steps.map((step) => html`<li>${step}</li>\n`)}</ol>`;
}

/** Which patches show fringes at once after setting by eye, and which need a closer setting first. */
function catchWords(design: Design): Html {
  const close = design.patches.filter((patch) =>
    tiltsOf(sensesOf(design, patch)).some(({ captureRange }) => captureRange < EYE_SETTING.good),
  );
  if (design.patches.every(({ reference }) => !returnsFocus(reference.kind))) return html``;
  if (close.length === 0) return html`The fringes of every patch can be read from there.`;
  const ranges = close.flatMap((patch) =>
    tiltsOf(sensesOf(design, patch)).map(({ captureRange }) => captureRange),
  );
  return html`Closer than that the camera needs ${namesOf(close)}: fringes are readable there from ${significant(Math.min(...ranges), 2)} mm. Use the spot itself first: the
light that comes back grows and fills the patch as the reference nears its place.`;
}

function sequence(design: Design): string {
  const seen = design.patches.flatMap((patch) => {
    const [first] = tiltsOf(sensesOf(design, patch));
    return first === undefined ? [] : [{ id: patch.id, fringesPerMm: first.fringesPerMm }];
  });
  // The scenario's order where there is nothing to choose between two.
  const rounded = (fringesPerMm: number): number => Number(fringesPerMm.toPrecision(SAME_DIGITS));
  const sorted = seen.toSorted((a, b) => rounded(a.fringesPerMm) - rounded(b.fringesPerMm));
  return sorted.length === 0 ? 'none here' : namesOf(sorted);
}

function partWords(references: readonly Reference[]): string {
  const touching = references.filter(({ touches }) => touches.length > 0);
  return touching.length === 0
    ? 'The references of this design are not tied to the part’s datums: bring the part to them by what holds them.'
    : `${touching.map(({ id }) => id).join(', ')} sit on the part’s datums: move the part, with them in contact, until their patches show what their sections say.`;
}

/** What shows how the hologram lies to the interferometer. */
function straightBack({ patches }: Design): string {
  const rings = patches.filter(({ reference }) => reference.kind === 'return');
  return rings.length === 0 ? '(its reflection)' : `(${namesOf(rings)})`;
}

/** The patches that look at the part itself. */
function squareWords({ patches }: Design): string {
  const square = patches.filter(({ reference }) => reference.kind === 'datum');
  return square.length === 0
    ? ''
    : ` Light of ${namesOf(square)} meets the part itself: centre it and take out its tilt until their fringes are as few as they can be.`;
}

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
