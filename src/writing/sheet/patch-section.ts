/** What the sheet says of one patch. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { placedOutlineText } from '../drawing/patch-table.ts';
import { degrees, NONE, place, places, significant } from './figures.ts';
import { facts, type Html, html } from './html.ts';
import { KIND_WORDS } from './kind-words.ts';
import type { ReportedPatch } from './reported.ts';

export function patchSection(
  _design: Design,
  patch: DesignedPatch,
  reported: ReportedPatch,
  number: number,
): Html {
  return html`<section class="patch" id="patch-${number}">
<h3>${number}. ${patch.id}</h3>
${facts([
  ['Reference', `${patch.reference.id}, ${KIND_WORDS[patch.reference.kind]}, at ${places(patch.target)} mm`],
  ['Focus', focusWords(patch)],
  [
    'Place on the pattern',
    `centre (${patch.centre.map(place).join(', ')}) mm; ${placedOutlineText(patch.outline, patch.centre)} mm`,
  ],
  ['Distance', `${place(patch.distance)} mm from its centre to the reference`],
  ['Working order', patch.order > 0 ? `+${patch.order}` : String(patch.order).replace('-', '\u2212')],
  ['Fringes at the design place', biasWords(reported)],
  [
    'Period of the pattern',
    `${significant(reported.period_um.min, 4)} µm to ${significant(reported.period_um.max, 4)} µm`,
  ],
  [
    'One reading resolves',
    reported.resolution_um === null
      ? NONE
      : `${significant(reported.resolution_um)} µm of the reference’s motion`,
  ],
  ['Fresnel number', significant(reported.fresnelNumber)],
  [
    'Fit of the table',
    `degree ${reported.fitDegree}, residual ${reported.fitResidual_waves.pv.toExponential(1)} waves peak to valley, ` +
      `${reported.fitResidual_waves.rms.toExponential(1)} waves rms`,
  ],
])}
</section>
`;
}

function focusWords(patch: DesignedPatch): string {
  if (patch.asked.lineAngle === undefined) return 'point';
  return `line at ${degrees(patch.asked.lineAngle)}° in the pattern plane, from +x toward +y`;
}

function biasWords({ bias }: ReportedPatch): string {
  if (bias.fringesAtNull === null) return 'none: no light comes back from a screen';
  const seen = significant(bias.fringesAtNull);
  if (bias.shape === 'none') return `none asked; ${seen} seen by the traced return`;
  return `${bias.shape} of ${significant(bias.fringes)} asked, ${seen} seen by the traced return`;
}
