/** The strip of pictures of one patch, with what each shows beneath it; as the camera shows it. */
import type { DesignedPatch } from '../../design/design.ts';
import { stripPicture } from '../../metrology/camera/fringe-picture.ts';
import type { StripState, TracedStrip } from '../../metrology/camera/fringe-picture-strip.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { fringeWords, significant, stateWords } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import { pngAddress } from '../picture/stored-png.ts';

/** Pixels a side of each picture: at 30 mm in print 80 to the inch, of smooth fringes; a sheet holds many pictures. */
const SIZE = 96;

/** `fringesAtNull`: what the aligned patch shows. */
export function stripFigure(
  patch: DesignedPatch,
  { states, branches }: TracedStrip,
  fringesAtNull: number | null,
  orientation: CameraOrientation,
): Html {
  const picture = pngAddress(stripPicture(patch, branches, SIZE, orientation));
  return html`<figure class="${states.length > 4 ? 'strip six' : 'strip'}">
<img src="${picture}" alt="Fringes of ${patch.id}: ${states.map(nameOf).join(', ')}" width="${SIZE * states.length}" height="${SIZE}">
<ol>${states.map((state) => html`<li><strong>${stateWords(nameOf(state), fringesAtNull)}</strong><br>${offWords(state)}</li>`)}</ol>
</figure>`;
}

const nameOf = ({ name, sense }: StripState): string =>
  sense === 0 ? name : sense === 1 ? 'second direction' : 'along the light';

/** How far the reference is off in the picture. */
const offWords = ({ move, fringes }: StripState): string =>
  move === 0 ? 'in place' : `${significant(move * UM_PER_MM)} µm off, ${fringeWords([fringes])}`;
