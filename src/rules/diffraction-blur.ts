/**
 * Rule diffraction-blur: the round trip of every patch holds enough Fresnel zones for its fringes to mean what geometry says.
 * The limit comes from propagated waves, in the table of optics/diffraction-blur.ts.
 */

import type { FresnelNumber } from '../kinds/kind.ts';
import { kindOf } from '../kinds/kinds.ts';
import { fresnelNumberOf } from '../metrology/sensing/fresnel.ts';
import { LEAST_FRESNEL_NUMBER } from '../optics/diffraction-blur.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const diffractionBlur = rule(
  {
    code: 'diffraction-blur',
    severity: 'warning',
    scope: 'patch',
    meaning:
      'The Fresnel number of a patch’s round trip is too low: diffraction at its edges blurs the whole patch.',
    limit: `Fresnel number ${LEAST_FRESNEL_NUMBER.ball}; with a cube ${LEAST_FRESNEL_NUMBER.cube}, along its line and across it`,
    remedy: 'Make the patch larger, move the reference closer, or use a cube with a line focus.',
    planning: {
      by: 'moving',
      rank: 6,
      helps: 'a larger patch, a nearer reference, a larger ball, or an SMR with a line focus',
    },
  },
  (design) =>
    design.patches.flatMap((patch, i): Found[] => {
      const found = fresnelNumberOf(design, patch);
      if (found === undefined || found.number >= found.least) return [];
      const { number, direction, least } = found;
      return [
        {
          where: patch.id,
          message:
            `the round trip of patch ${patch.id} over ${trimmed(patch.distance, 1)} mm to ${patch.reference.id} has a ` +
            `Fresnel number of ${trimmed(number, 3)}${directionWords(direction)}; below ${least}, diffraction at its edges blurs the whole patch`,
          hint: kindOf(patch.reference).words.returned?.blurred(direction) ?? '',
          value: number,
          limit: least,
          path: ['patches', i, 'id'],
        },
      ];
    }),
);

const directionWords = (direction: FresnelNumber['direction']): string =>
  direction === undefined
    ? ''
    : direction === 'both'
      ? ' along and across its line'
      : ` ${direction} its line`;
