/** `fringes.html`: the pictures on one self-contained page, one strip per patch with the misalignment beneath each picture. */
import type { Design } from '../../design/design.ts';
import { FORMS, type ShownMotion } from '../../metrology/null/null-fringes.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import {
  axisWords,
  fringeWords,
  motionWords,
  places,
  significant,
  stateWords,
  VISIBLE_FRINGES,
} from '../page/figures.ts';
import { type Html, html, page, trusted } from '../page/html.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';
import { STYLE } from '../page/style.ts';
import type { NamedPicture, SetOptions } from './picture-set.ts';
import type { Film } from './way-in.ts';
import { filmsHtml, WAY_IN_SCRIPT, WAY_IN_STYLE } from './way-in-section.ts';

const OWN_STYLE = `
.pictures { display: flex; flex-wrap: wrap; gap: 3mm; }
.pictures figure { flex: 0 0 auto; width: 43mm; margin: 0; }
.pictures figure.wide { width: 88mm; }
.pictures img { display: block; width: 100%; height: auto; background: #000; }
.strip { break-inside: avoid; }
`;

/** `bytes` of each picture by its file's name; `films` where the way in is asked for. */
export function fringesPage(
  design: Design,
  pictures: readonly NamedPicture[],
  bytes: ReadonlyMap<string, Uint8Array>,
  options: SetOptions,
  version: string,
  films: readonly Film[] = [],
): string {
  const title = design.scenario.title || 'Reference patches';
  const shown = (picture: NamedPicture): Html => {
    const address = `data:image/png;base64,${Buffer.from(bytes.get(picture.file)!).toString('base64')}`;
    return html`<figure${trusted(picture.patch === undefined ? ' class="wide"' : '')}><img src="${address}" alt="${captionOf(picture)}"><figcaption>${captionOf(picture)}</figcaption></figure>\n`;
  };
  const moving = (id: string | undefined): Html =>
    filmsHtml(
      design,
      films.filter(({ patch }) => patch === id),
      options.orientation,
    );
  const patches = [...new Set(pictures.flatMap(({ patch }) => patch ?? []))];
  return page(
    `${title}: fringes`,
    STYLE + OWN_STYLE + (films.length === 0 ? '' : WAY_IN_STYLE),
    html`<header>
<h1>${title}: fringes</h1>
<p>${howWords(
      options,
      pictures.some(({ patch }) => patch !== undefined && patch === design.main?.id),
      films.length > 0,
    )}</p>
</header>
<main>
<h2>Full aperture</h2>
<div class="pictures">
${pictures.filter(({ patch }) => patch === undefined).map(shown)}</div>${moving(undefined)}
${patches.map(
  (
    id,
  ) => html`<section class="strip"><h2>${id === design.main?.id ? `${id}: the null of surface ${design.main.test.surface}` : id}</h2>
<div class="pictures">
${pictures.filter(({ patch }) => patch === id).map(shown)}</div>${moving(id)}</section>
`,
)}</main>
<footer>datumlight ${version}</footer>${films.length === 0 ? '' : html`\n<script>${trusted(WAY_IN_SCRIPT)}</script>`}`,
  );
}

/** `far off: 1.04 µm off, 8 fringes`: the displacement, and how many fringes it adds. */
export function captionOf(picture: NamedPicture): string {
  const { state, displacement, moved, fringes, fringesAtNull, motion } = picture;
  if (motion !== undefined) return `part off by ${motionWords(motion)}: ${formWords(motion.forms)}`;
  // Of a ring.
  if (displacement === undefined && (moved !== undefined || fringes.length > 0)) {
    const name = stateWords(state, fringesAtNull);
    const counted = fringes.filter((count) => Math.abs(count) >= VISIBLE_FRINGES);
    const off = moved === undefined ? 'as specified' : movedWords(moved);
    return `${name}: ${off}${counted.length === 0 ? '' : `, ${fringeWords(counted)}`}`;
  }
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

/** `hologram 2.24 µrad about y`, `part 2.45 µm along x`. */
function movedWords({ of, translation, rotation }: NonNullable<NamedPicture['moved']>): string {
  const turns = rotation.some((angle) => angle !== 0);
  const by = turns ? rotation : translation;
  const size = Math.hypot(...by);
  if (size === 0) return 'in place';
  const [scale, unit, word] = turns
    ? ([URAD_PER_RAD, 'µrad', 'about'] as const)
    : ([UM_PER_MM, 'µm', 'along'] as const);
  return `${of} ${significant(size * scale)} ${unit} ${word} ${axisWords(by)}`;
}

/** Such as `3 fringes of tilt, 0.2 of coma`: the forms that are seen, the largest first. */
export function formWords(forms: ShownMotion['forms']): string {
  const [first, ...rest] = FORMS.filter((form) => forms[form] >= SEEN_FORM)
    .toSorted((a, b) => forms[b] - forms[a])
    .map((form) => [forms[form], form] as const);
  if (first === undefined) return 'no fringes to be seen';
  return [
    `${fringeWords([first[0]])} of ${first[1]}`,
    ...rest.map(([count, form]) => `${significant(count, 2)} of ${form}`),
  ].join(', ');
}

/** Beside the largest, fewer fringes than this are not seen. */
const SEEN_FORM = 0.1;

const howWords = (
  { orientation, diffraction, camera }: SetOptions,
  hasNull: boolean,
  moves: boolean,
): string =>
  [
    `${orientationWords(orientation).replace(/^s/, 'S')}: ${axesWords(orientation)}.`,
    diffraction
      ? 'Computed by scalar diffraction of the round trip; by ray tracing where diffraction is not supported.'
      : 'Computed by ray tracing, without diffraction.',
    camera === undefined
      ? 'Without noise, at full contrast.'
      : 'As the camera records it: at its own pixels, with the contrast that the pattern’s efficiency gives.',
    'The displacement in each caption is that of the patch’s reference, of a ring that of the hologram or of the part; its fringe count is the change from the aligned picture.',
    ...(hasNull
      ? [
          'The null of the surface under test is drawn for a perfect surface; the part moves along and about its own axes.',
        ]
      : []),
    ...(moves
      ? [
          'Moving pictures of the way in are traced without noise. References on mounts of their own do not move with the part.',
        ]
      : []),
  ].join(' ');
