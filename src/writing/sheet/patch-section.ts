/** One patch on the sheet: its fringes on the way to alignment, which way to move, when to stop, and its figures. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { type TracedStrip, tracedStrip } from '../../metrology/camera/fringe-picture-strip.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { placedOutlineText } from '../drawing/sheet/patch-table.ts';
import { degrees, micro, NONE, place, places, significant } from '../page/figures.ts';
import { facts, type Html, type HtmlValue, html } from '../page/html.ts';
import type { ReportedPatch } from '../report/report-form.ts';
import { falseNullWords } from './false-null.ts';
import { ringFigure, ringRows } from './ring-section.ts';
import { stripFigure } from './strip-figure.ts';
import { moveWords, stopWords, turningWords } from './turning-words.ts';

/** With more patches than this a sheet is no longer read at a bench: its tables list them all, `datumlight fringes` makes pictures. */
export const MOST_IN_DETAIL = 40;

export function patchSection(
  design: Design,
  patch: DesignedPatch,
  reported: ReportedPatch,
  number: number,
  orientation: CameraOrientation,
): Html {
  const strip = tracedStrip(design, patch);
  const seen = strip.turnings.length > 0;
  const ofRing = ringRows(design, patch, reported.motion, orientation);
  return html`<section class="${ofRing.length === 0 ? 'patch' : 'patch tall'}" id="patch-${number}">
<h3>${number}. ${patch.id}</h3>
<div class="seen">${seen ? stripFigure(patch, strip, reported.bias.fringesAtNull, orientation) : ringFigure(design, patch, reported.bias.fringesAtNull, orientation)}
<p class="small">Reference ${patch.reference.id}, ${kindOf(patch.reference).words.long}, at ${places(patch.target)} mm, ${Number.isFinite(patch.distance) ? place(patch.distance) : NONE} mm from the patch.
${focusWords(patch)}, order ${orderWords(patch.order)}; centre (${patch.centre.map(place).join(', ')}) mm, ${placedOutlineText(patch.outline, patch.centre)} mm.
Fringes at the design position: ${biasWords(reported)}.${
    reported.fresnelNumber === null
      ? ''
      : ` Fresnel number ${significant(reported.fresnelNumber)}${fresnelWords[reported.fresnelDirection ?? 'none']}${blurWords(reported.fresnelNumber)}.`
  }</p></div>
${seen ? facts(benchRows(design, patch, strip, orientation)) : ofRing.length === 0 ? '' : facts(ofRing)}
</section>
`;
}

function benchRows(
  design: Design,
  patch: DesignedPatch,
  { turnings }: TracedStrip,
  orientation: CameraOrientation,
): readonly (readonly [HtmlValue, HtmlValue])[] {
  const moves = turnings.map((turning) => {
    const perFringe = significant(UM_PER_MM / turning.sense.fringesPerMm);
    return html`<p>Moving the reference ${moveWords(turning, orientation)}: ${turningWords(patch, turning, orientation)}. ${perFringe} µm per fringe.</p>`;
  });
  const { readable } = design.scenario.interferometer;
  const falseNull = falseNullWords(patch, turnings, orientation);
  return [
    ['Effect of moves', moves],
    ['Stop when', `${stopWords(patch, readable, turnings)}.`],
    ...(falseNull === undefined ? [] : [['False null', falseNull] as const]),
    ['Readable within', captureWords(turnings)],
  ];
}

/** Across the light and, of a point focus, along it. */
function captureWords(turnings: TracedStrip['turnings']): string {
  const ranges = (kind: 'tilt' | 'power'): string =>
    turnings
      .filter(({ sense }) => sense.kind === kind)
      .map(({ sense }) => `${significant(sense.readableRange, 2)} mm`)
      .filter((words, k, all) => all.indexOf(words) === k)
      .join(' and ');
  const along = ranges('power');
  return along === ''
    ? `${ranges('tilt')} of its position`
    : `${ranges('tilt')} of its position, along the light ${along}`;
}

function focusWords(patch: DesignedPatch): string {
  const { light } = kindOf(patch.reference).words;
  if (light !== undefined) return light;
  if (patch.asked.lineAngle === undefined) return 'Point focus';
  return `Line focus at ${degrees(patch.asked.lineAngle)}° in the pattern plane, from +x toward +y`;
}

const orderWords = (order: number): string =>
  order > 0 ? `+${order}` : String(order).replace('-', '\u2212');

function biasWords({ bias }: ReportedPatch): string {
  if (bias.fringesAtNull === null) return 'not counted, since no light returns';
  const seen = micro(bias.fringesAtNull);
  if (bias.shape === 'none') return `none specified; ${seen} by the traced return`;
  return `${bias.shape} of ${significant(bias.fringes)} specified, ${seen} by the traced return`;
}

const fresnelWords = {
  along: ' along its line',
  across: ' across its line',
  both: ' along its line and across it',
  none: '',
} as const;

/** Below it the pictures are sharper than what the camera will show. */
const SHARP = 5;
const blurWords = (fresnelNumber: number): string =>
  fresnelNumber < SHARP
    ? ': on the camera the fringes are softer than in these pictures, with diffraction fringes at the edges'
    : '';
