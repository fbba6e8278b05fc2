/** `fringes.html`: the pictures on one self-contained page, one strip per patch with the misalignment beneath each picture. */
import type { Design } from '../../design/design.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { fringeWords, places, significant, stateWords, VISIBLE_FRINGES } from '../page/figures.ts';
import { type Html, html, page, trusted } from '../page/html.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';
import { STYLE } from '../page/style.ts';
import type { NamedPicture, SetOptions } from './picture-set.ts';

const OWN_STYLE = `
.pictures { display: flex; flex-wrap: wrap; gap: 3mm; }
.pictures figure { flex: 0 0 auto; width: 43mm; margin: 0; }
.pictures figure.wide { width: 88mm; }
.pictures img { display: block; width: 100%; height: auto; background: #000; }
.strip { break-inside: avoid; }
`;

/** `bytes` of each picture by its file's name. */
export function fringesPage(
  design: Design,
  pictures: readonly NamedPicture[],
  bytes: ReadonlyMap<string, Uint8Array>,
  options: SetOptions,
  version: string,
): string {
  const title = design.scenario.title || 'Reference patches';
  const shown = (picture: NamedPicture): Html => {
    const address = `data:image/png;base64,${Buffer.from(bytes.get(picture.file)!).toString('base64')}`;
    return html`<figure${trusted(picture.patch === undefined ? ' class="wide"' : '')}><img src="${address}" alt="${captionOf(picture)}"><figcaption>${captionOf(picture)}</figcaption></figure>\n`;
  };
  const patches = [...new Set(pictures.flatMap(({ patch }) => patch ?? []))];
  return page(
    `${title}: fringes`,
    STYLE + OWN_STYLE,
    html`<header>
<h1>${title}: fringes</h1>
<p>${howWords(options)}</p>
</header>
<main>
<h2>Full aperture</h2>
<div class="pictures">
${pictures.filter(({ patch }) => patch === undefined).map(shown)}</div>
${patches.map(
  (id) => html`<section class="strip"><h2>${id}</h2>
<div class="pictures">
${pictures.filter(({ patch }) => patch === id).map(shown)}</div></section>
`,
)}</main>
<footer>datumlight ${version}</footer>`,
  );
}

/** `far off: 1.04 µm off, 8 fringes`: the displacement, and how many fringes it adds. */
export function captionOf({ state, displacement, fringes, fringesAtNull }: NamedPicture): string {
  if (displacement === undefined)
    return state === 'displaced' ? 'displaced as specified' : 'at the design position';
  const off = Math.hypot(...displacement);
  const name = stateWords(state, fringesAtNull);
  if (off === 0) return `${name}: in place`;
  const um = displacement.map((component) => component * UM_PER_MM);
  const direction =
    state === 'displaced' ? ` ${places(um.map((value) => Number(value.toPrecision(3))))} µm` : '';
  const counted = fringes.filter((count) => Math.abs(count) >= VISIBLE_FRINGES);
  return `${name}: ${significant(off * UM_PER_MM)} µm off${direction}${counted.length === 0 ? '' : `, ${fringeWords(counted)}`}`;
}

const howWords = ({ orientation, diffraction, camera }: SetOptions): string =>
  [
    `${orientationWords(orientation).replace(/^s/, 'S')}: ${axesWords(orientation)}.`,
    diffraction
      ? 'Computed by scalar diffraction of the round trip; by ray tracing where diffraction is not supported.'
      : 'Computed by ray tracing, without diffraction.',
    camera === undefined
      ? 'Without noise, at full contrast.'
      : 'As the camera records it: at its own pixels, with the contrast that the pattern’s efficiency gives.',
    'The displacement in each caption is that of the patch’s reference; its fringe count is the change from the aligned picture.',
  ].join(' ');
