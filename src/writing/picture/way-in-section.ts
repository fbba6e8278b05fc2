/**
 * Moving pictures on the page of the fringes: a slider and a button that plays them. Without scripts, and on paper, a strip of some of the
 * frames stands instead. Plays by steps of one frame for who asks for reduced motion. Nothing is fetched.
 */
import type { Design } from '../../design/design.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { fringeWords, stateWords, VISIBLE_FRINGES } from '../page/figures.ts';
import { type Html, html, trusted } from '../page/html.ts';
import { amountWords, bodyMoveWords, lateralWords } from '../page/move-words.ts';
import type { Film } from './way-in.ts';

export const WAY_IN_STYLE = `
.films { display: flex; flex-wrap: wrap; gap: 3mm 6mm; }
.film { flex: 1 1 100%; break-inside: avoid; }
.film p { margin: 1mm 0; }
.film ol { display: flex; flex-wrap: wrap; gap: 2mm; list-style: none; margin: 1mm 0; padding: 0; }
.film li { flex: 0 0 auto; width: 21mm; margin: 0; font-size: 8pt; line-height: 1.25; }
.film li img { display: block; width: 100%; height: auto; background: #000; }
.film li.between { display: none; }
.film .player { display: none; align-items: center; gap: 2mm; }
.film .player input { flex: 1 1 40mm; }
.film .player button { min-width: 18mm; font: inherit; }
@media screen {
  .film.live { flex-basis: 80mm; max-width: 130mm; }
  .film.live .player { display: flex; }
  .film.live li { display: none; width: 100%; max-width: 60mm; font-size: 9pt; min-height: 2.5em; }
  .film.live li.shown { display: block; }
}
`;

/** Films of one patch, of the null or of the whole aperture; nothing for none. */
export const filmsHtml = (design: Design, all: readonly Film[], orientation: CameraOrientation): Html =>
  all.length === 0
    ? html``
    : html`
<div class="films">
${all.map((film) => filmHtml(design, film, orientation))}</div>`;

function filmHtml(design: Design, film: Film, orientation: CameraOrientation): Html {
  const { frames } = film;
  const start = startWords(design, film, orientation);
  return html`<section class="film">
<p class="small"><strong>Way in.</strong> ${start}</p>
<ol>
${frames.map(({ png }, k) => {
  const isPrinted = k % PRINTED === 0 || k === frames.length - 1;
  const words = frameWords(film, k);
  return html`<li${trusted(isPrinted ? '' : ' class="between"')}><img src="data:image/png;base64,${Buffer.from(png).toString('base64')}" alt="${words}" width="${film.size}" height="${film.size}"><span>${words}</span></li>\n`;
})}</ol>
<div class="player"><button type="button">Play</button><input type="range" min="0" max="${frames.length - 1}" step="1" value="0" aria-label="Steps of the way in: ${start}"></div>
</section>
`;
}

/** Every so many frames one is printed, and shown without scripts. */
const PRINTED = 2;

/** `Start: 52.7 µm off, by moving the reference toward 3 o’clock, along (1, 0, 0); 14 fringes.` */
export function startWords(
  { scenario }: Design,
  { patch, way }: Pick<Film, 'patch' | 'way'>,
  orientation: CameraOrientation,
): string {
  const { of, kind, direction, from, readable, fringes } = way;
  const moved =
    of === 'reference'
      ? `moving the reference ${lateralWords(direction, orientation)}`
      : bodyMoveWords(scenario, { of, kind, along: direction }, orientation);
  const most = patch === undefined ? ' where most show' : '';
  const farther =
    readable !== undefined && readable > from * FARTHER
      ? ` Fringes can be counted up to ${amountWords(kind, readable)}.`
      : '';
  return `Start: ${amountWords(kind, from)} off, by ${moved}; ${fringeWords([fringes])}${most}.${farther}`;
}

/** A range that the start nearly reaches is not named beside it. */
const FARTHER = 1.02;

/** `12.3 µm off, 3.4 fringes`; at the end `aligned (shows 1 fringe)`. */
export function frameWords({ way, frames, fringesAtNull }: Film, k: number): string {
  const { share } = frames[k]!;
  if (share === 0) return stateWords('aligned', fringesAtNull);
  const count = way.fringes * share;
  const counted = count >= VISIBLE_FRINGES ? `, ${fringeWords([count])}` : '';
  return `${amountWords(way.kind, way.from * share)} off${counted}`;
}

/** Makes each strip of frames a moving picture. */
export const WAY_IN_SCRIPT = `
for (const film of document.querySelectorAll('.film')) {
  const frames = [...film.querySelectorAll('li')];
  const slider = film.querySelector('input');
  const button = film.querySelector('button');
  const still = matchMedia('(prefers-reduced-motion: reduce)');
  let timer;
  const show = () => {
    frames.forEach((frame, k) => frame.classList.toggle('shown', k === slider.valueAsNumber));
    slider.setAttribute('aria-valuetext', frames[slider.valueAsNumber].textContent);
  };
  const name = () => { button.textContent = timer ? 'Pause' : still.matches ? 'Next step' : 'Play'; };
  const stop = () => { clearInterval(timer); timer = undefined; name(); };
  const step = () => {
    const at = slider.valueAsNumber;
    slider.value = at < frames.length - 1 ? at + 1 : 0;
    show();
  };
  button.addEventListener('click', () => {
    if (timer) return stop();
    step();
    if (still.matches) return;
    timer = setInterval(() => { step(); if (slider.valueAsNumber === frames.length - 1) stop(); }, 450);
    name();
  });
  slider.addEventListener('input', () => { stop(); show(); });
  still.addEventListener('change', stop);
  film.classList.add('live');
  name();
  show();
}
`;
