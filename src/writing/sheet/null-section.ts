/** The null of the surface under test at the bench: its pictures, the fringes that each motion of the part makes, when to stop, and what it hides. */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { litOf, stripPicture } from '../../metrology/camera/fringe-picture.ts';
import { benchState } from '../../metrology/camera/fringe-picture-displacements.ts';
import { nullBranches } from '../../metrology/camera/null-return.ts';
import {
  FORMS,
  nullFringes,
  partMoved,
  shownMotions,
  tiltlessPairs,
} from '../../metrology/null/null-fringes.ts';
import { NM_PER_MM } from '../../quantity/conversion.ts';
import { type CameraOrientation, isPlain } from '../../scenario/camera-orientation.ts';
import { motionWords, NONE, significant } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import { formWords } from '../picture/fringes-page.ts';
import { pngAddress } from '../picture/stored-png.ts';
import { nmWords, type ReportedTest } from '../report/reported-test.ts';

/** Pixels a side of each picture. */
const SIZE = 96;

export const nullSection = (
  design: Design,
  main: MainPattern,
  test: ReportedTest,
  orientation: CameraOrientation,
): Html =>
  html`${nullStrip(design, main, orientation)}
<p>In place, the null of surface ${test.surface} is uniform but for the error of the surface itself. Pictures: a perfect surface, ${isPlain(orientation) ? 'seen from the interferometer' : 'as the camera shows it'}, the part
off along and about its own axes.</p>
<p class="lead">Fringes that a motion of the part makes in the null, peak to valley over the aperture; ${NONE}: less than ${LEAST_COUNTED}.</p>
${fringeTable(design)}
<p>${stopWords(design, test)}</p>
<p><strong>A flat null does not prove that the part is in place.</strong> ${pairWords(design)}What a misplaced part leaves then looks like error of the surface. Set the part by the
patches; take the null’s own fringes out by moving the part only as far as the patches still show what the table of readings states.</p>
`;

function nullStrip(design: Design, main: MainPattern, orientation: CameraOrientation): Html {
  const motions = shownMotions(design);
  const states = [{}, ...motions.map(partMoved)].map((moved) =>
    nullBranches(design, main, benchState(design, moved)),
  );
  const picture = pngAddress(stripPicture(litOf(main), states, SIZE, orientation));
  const words = [
    ['in place', 'uniform'],
    ...motions.map((motion) => [motionWords(motion), formWords(motion.forms)]),
  ];
  return html`<figure class="${states.length > 4 ? 'strip six' : 'strip'}">
<img src="${picture}" alt="The null of surface ${main.test.surface}: in place, then the part off along ${motions.map(({ degree }) => degree).join(', ')}" width="${SIZE * states.length}" height="${SIZE}">
<ol>${words.map(([name, shows]) => html`<li><strong>${name!}</strong><br>${shows!}</li>`)}</ol>
</figure>`;
}

/** Fewer fringes are not counted. */
const LEAST_COUNTED = 0.001;
/** mm and rad: 10 µm and 10 µrad. */
const STEP = { move: 0.01, turn: 1e-5 } as const;

function fringeTable(design: Design): Html {
  const rows = nullFringes(design).map(({ degree, forms }) => {
    const isTurn = degree.startsWith('r');
    const amount = isTurn ? STEP.turn : STEP.move;
    const counts = FORMS.map((form) => amount * forms[form]);
    return [
      motionWords({ degree, amount }),
      ...counts.map((count) => (count < LEAST_COUNTED ? NONE : significant(count, 2))),
    ];
  });
  return table(['part off by', ...FORMS], rows, [1, 2, 3, 4]);
}

function stopWords(design: Design, { figure_nm: { expected, allowed } }: ReportedTest): string {
  const { readable } = design.scenario.interferometer;
  const limit = allowed === null ? '' : `; ${nmWords(allowed, 3)} is allowed`;
  const left =
    expected === null
      ? `nothing bounds what misalignment then adds to the figure${limit}`
      : `misalignment then adds ${nmWords(expected)} rms to the figure${limit}`;
  return `Stop when every patch shows what the table of readings states and the null has less than ${significant(readable)} fringe of tilt and power: ${left}.`;
}

function pairWords(design: Design): string {
  const [pair] = tiltlessPairs(design, STEP.move);
  if (pair === undefined) return '';
  const left = pair.left * NM_PER_MM;
  const rest = left < LEAST_LEFT ? 'nothing' : `${nmWords(left)} rms`;
  return `Motions can cancel in it: ${motionWords(pair.move)} and ${motionWords(pair.turn)} together make no tilt, and leave ${rest} in the figure. `;
}

/** nm: less is rounding. */
const LEAST_LEFT = 1e-4;
