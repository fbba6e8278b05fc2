/** `motions.csv`: what each degree of the part and of the hologram leaves in the measured figure, with its Zernike terms. nm for 1 µm or 1 µrad. */
import { zernikeOrdersFromIndex } from '../../optics/zernike.ts';
import { fixed } from '../../quantity/format.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { type Draft, draftLines } from '../convention.ts';
import type { ReportedTest } from '../report/reported-test.ts';

/** nm: a thousandth of what counts as rounding. */
const DECIMALS = 9;

export function motionsCsv(test: ReportedTest, { draft }: Draft): string {
  const { surface, removed, perMotion, perHologramMotion } = test;
  const terms = perMotion.x.terms_nm.map((_, j) => j);
  const lines = [
    ...draftLines(draft),
    `Datumlight motions: what 1 um along an axis or 1 urad about one leaves in the measured figure of surface ${surface}.`,
    'Height of surface in nm, rms over the aperture by area; positive toward the hologram; the wavefront has twice as much.',
    'part: degrees of the part frame about its origin. hologram: degrees of the substrate frame about its origin, its phase as drawn, beam and part at rest.',
    `raw: as it is. left: less what the evaluation removes (${removed.length === 0 ? 'nothing' : removed.join(', ')}).`,
    'z0 to z14: Zernike terms by ISO 24157, index j, on the circle about the aperture, of the raw height; in the surface’s own x and y.',
    `n m of them: ${terms.map((j) => `z${j} ${zernikeOrdersFromIndex(j).join(' ')}`).join('; ')}.`,
  ].map((line) => `# ${line}`);
  lines.push(['moved', 'degree', 'unit', 'raw_nm', 'left_nm', ...terms.map((j) => `z${j}_nm`)].join(','));
  for (const [of, rows] of [['part', perMotion] as const, ['hologram', perHologramMotion] as const]) {
    for (const degree of DEGREES) {
      const { unit, raw_nm, left_nm, terms_nm } = rows[degree];
      const figures = [raw_nm, left_nm, ...terms_nm].map((value) => fixed(value, DECIMALS));
      lines.push([of, degree, unit, ...figures].join(','));
    }
  }
  return `${lines.join('\n')}\n`;
}
