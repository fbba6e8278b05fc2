/** Every rule, in the order in which findings are listed. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { biasCancels } from './bias-cancels.ts';
import { blocked } from './blocked.ts';
import { collision } from './collision.ts';
import { diffractionBlur } from './diffraction-blur.ts';
import { featureTooSmall } from './feature-too-small.ts';
import { fitResidual } from './fit-residual.ts';
import { keepOut } from './keep-out.ts';
import { markClash } from './mark-clash.ts';
import { missesFigure } from './misses-figure.ts';
import { missesWanted } from './misses-wanted.ts';
import { mountNotSaid } from './mount-not-said.ts';
import { noContact } from './no-contact.ts';
import { noReturn } from './no-return.ts';
import { notObserved } from './not-observed.ts';
import { offSubstrate } from './off-substrate.ts';
import { patchOverlap } from './patch-overlap.ts';
import { retroTurned } from './retro-turned.ts';
import { roundWavelength } from './round-wavelength.ts';
import type { Rule } from './rule.ts';
import { seatClash } from './seat-clash.ts';
import { strayOrder } from './stray-order.ts';
import { unalignedHologram } from './unaligned-hologram.ts';
import { undersampled } from './undersampled.ts';
import { unlikelyValue } from './unlikely-value.ts';
import { unlit } from './unlit.ts';
import { weakReturn } from './weak-return.ts';

export const RULES: readonly Rule[] = [
  patchOverlap,
  keepOut,
  offSubstrate,
  seatClash,
  markClash,
  noContact,
  collision,
  unlit,
  featureTooSmall,
  fitResidual,
  biasCancels,
  blocked,
  strayOrder,
  retroTurned,
  noReturn,
  weakReturn,
  undersampled,
  diffractionBlur,
  unalignedHologram,
  mountNotSaid,
  notObserved,
  missesWanted,
  missesFigure,
  unlikelyValue,
  roundWavelength,
];

/** What every rule finds, errors first, otherwise in the rules' order and the file's. */
export function applyRules(design: Design): readonly Finding[] {
  const findings = RULES.flatMap((rule) => rule.find(design));
  const rank = { error: 0, warning: 1, note: 2 };
  return findings.sort((a, b) => rank[a.severity] - rank[b.severity]);
}
