/**
 * Rule diffraction-blur: the round trip of every patch holds enough Fresnel zones for its fringes to mean what geometry says.
 * The limit comes from propagated waves, in the table of optics/diffraction-blur.ts.
 */
import type { Finding } from '../finding/finding.ts';
import { kindOf } from '../kinds/kinds.ts';
import { fresnelNumberOf } from '../metrology/sensing/fresnel.ts';
import { LEAST_FRESNEL_NUMBER } from '../optics/diffraction-blur.ts';
import { trimmed } from '../quantity/format.ts';
import type { Rule } from './rule.ts';

export const diffractionBlur: Rule = (design) =>
  design.patches.flatMap((patch, i): Finding[] => {
    const number = fresnelNumberOf(design, patch);
    if (number === undefined || number >= LEAST_FRESNEL_NUMBER) return [];
    return [
      {
        severity: 'warning',
        rule: 'diffraction-blur',
        where: patch.id,
        message:
          `the round trip of patch ${patch.id} over ${trimmed(patch.distance, 1)} mm to ${patch.reference.id} has the ` +
          `Fresnel number ${trimmed(number, 3)}; below ${LEAST_FRESNEL_NUMBER} its blurred edges reach across it`,
        hint: kindOf(patch.reference).words.returned?.blurred ?? '',
        value: number,
        limit: LEAST_FRESNEL_NUMBER,
        path: ['patches', i, 'id'],
      },
    ];
  });
