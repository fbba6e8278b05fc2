/**
 * Rule diffraction-blur: the round trip of every patch holds enough Fresnel zones for its fringes to mean what geometry says.
 * The limit comes from propagated waves, in the table of optics/diffraction-blur.ts.
 */
import type { Finding } from '../finding/finding.ts';
import { fresnelNumberOf } from '../metrology/sensing/fresnel.ts';
import { LEAST_FRESNEL_NUMBER } from '../optics/diffraction-blur.ts';
import { trimmed } from '../quantity/format.ts';
import type { Rule } from './rule.ts';

export const diffractionBlur: Rule = (design) =>
  design.patches.flatMap((patch, i): Finding[] => {
    const number = fresnelNumberOf(design, patch);
    if (number === undefined || number >= LEAST_FRESNEL_NUMBER) return [];
    const onBall = patch.reference.kind === 'ball';
    return [
      {
        severity: 'warning',
        rule: 'diffraction-blur',
        where: patch.id,
        message:
          `the round trip of patch ${patch.id} over ${trimmed(patch.distance, 1)} mm to ${patch.reference.id} has the ` +
          `Fresnel number ${trimmed(number, 3)}; below ${LEAST_FRESNEL_NUMBER} its blurred edges reach across it`,
        hint: patch.square
          ? 'make the ring wider from its inner to its outer edge, or stand the hologram nearer to the part'
          : onBall
            ? 'make the patch wider, bring the ball nearer, take a larger ball, or a retroreflector with a line focus'
            : 'make the patch longer along its line, or bring the retroreflector nearer',
        value: number,
        limit: LEAST_FRESNEL_NUMBER,
        path: ['patches', i, 'id'],
      },
    ];
  });
