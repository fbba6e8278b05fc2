/** `fringes.html`: the pictures on one self-contained page, a strip a patch with the misalignment beneath each. */
import type { Design } from '../../design/design.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { fringeWords, places, significant } from '../sheet/figures.ts';
import { type Html, html, trusted } from '../sheet/html.ts';
import { STYLE } from '../sheet/style.ts';
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
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}: fringes</title>
<style>${trusted(STYLE + OWN_STYLE)}</style>
</head>
<body>
<header>
<h1>${title}: fringes</h1>
<p>${howWords(options)}</p>
</header>
<main>
<h2>Whole aperture</h2>
<div class="pictures">
${pictures.filter(({ patch }) => patch === undefined).map(shown)}</div>
${patches.map(
  (id) => html`<section class="strip"><h2>${id}</h2>
<div class="pictures">
${pictures.filter(({ patch }) => patch === id).map(shown)}</div></section>
`,
)}</main>
<footer>datumlight ${version}</footer>
</body>
</html>
`.text;
}

/** `far off: 1.04 mm…`: what is out of place, and how many fringes that adds. */
export function captionOf({ state, displacement, fringes }: NamedPicture): string {
  if (displacement === undefined) return state === 'displaced' ? 'as displaced' : 'at the design place';
  const off = Math.hypot(...displacement);
  if (off === 0) return `${state}: in place`;
  const um = displacement.map((part) => part * UM_PER_MM);
  const direction =
    state === 'displaced' ? ` ${places(um.map((part) => Number(part.toPrecision(3))))} µm` : '';
  const counted = fringes.filter((count) => Math.abs(count) >= SHOWN);
  return `${state}: ${significant(off * UM_PER_MM)} µm off${direction}${counted.length === 0 ? '' : `, ${fringeWords(counted)}`}`;
}

/** Fewer fringes than this are none to the eye. */
const SHOWN = 0.01;

const howWords = ({ seenFrom, diffraction, camera }: SetOptions): string =>
  [
    seenFrom === 'part'
      ? 'Seen from the part side: x to the right, y up.'
      : 'Seen from the interferometer: x to the left, y up.',
    diffraction
      ? 'By scalar diffraction of the round trip; by traced rays where that is not supported.'
      : 'By traced rays, without diffraction.',
    camera === undefined
      ? 'Free of noise, at full contrast.'
      : 'As a camera sees it: its own pixels, the contrast of the pattern’s efficiency.',
    'The misalignment is that of the patch’s reference.',
  ].join(' ');
