/**
 * Rule misses-wanted: the combined standard uncertainty of each degree of freedom that `wanted` names is no larger than it allows:
 * by the whole budget, what the scenario states and common practice for the rest. A degree that is not observed at all is
 * not-observed's matter.
 */
import type { Design } from '../design/design.ts';
import { combinedSigmaOf, sigmaOf } from '../metrology/estimate/pose.ts';
import { poseOf } from '../metrology/estimate/pose-estimate.ts';
import { wishAdvice } from '../metrology/estimate/wish-advice.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import { DEGREES, wishedDegrees } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

/** A σ at the wish itself meets it: rounding decides no design. */
const RELATIVE_ROUNDING = 1e-9;

export const missesWanted = rule(
  {
    code: 'misses-wanted',
    severity: 'error',
    scope: 'design',
    meaning: 'A standard uncertainty is larger than `wanted` allows.',
    limit: 'wanted',
    remedy:
      'Reduce the largest terms of the budget as the finding says; patches help only where they are what limits it.',
    planning: { by: 'growth' },
  },
  (design) => {
    const { wanted } = design.scenario;
    if (wishedDegrees(wanted).length === 0) return [];
    const pose = poseOf(design);
    return DEGREES.flatMap((degree, k): Found[] => {
      const wish = wanted[degree];
      const found = combinedSigmaOf(pose, k);
      if (wish === undefined || found === null || found <= wish * (1 + RELATIVE_ROUNDING)) return [];
      const isTurn = degree.startsWith('r');
      const scale = isTurn ? URAD_PER_RAD : UM_PER_MM;
      const [sigma, limit] = [found * scale, wish * scale];
      const unit = isTurn ? 'urad' : 'um';
      const shown = isTurn ? 'µrad' : 'µm';
      return [
        {
          where: `wanted.${degree}`,
          message:
            `${degree} of the part has a combined standard uncertainty of ${trimmed(sigma, 2)} ${shown} ` +
            `(${trimmed(sigmaOf(pose, k)! * scale, 2)} ${shown} from the readings alone); wanted: ${trimmed(limit, 2)} ${shown}`,
          hint: adviceWords(design, k, wish, (value) => `${trimmed(value * scale, 2)} ${shown}`),
          value: sigma,
          limit,
          unit,
          path: ['wanted', degree],
        },
      ];
    });
  },
);

function adviceWords(design: Design, degree: number, wish: number, shown: (value: number) => string): string {
  const { largest, sigma, rest, remedies, besidePatches } = wishAdvice(design, degree, wish);
  const beyond =
    besidePatches > wish
      ? `; no patches on these references can meet the wish: with perfect readings ${shown(besidePatches)} would remain; another reference would lower that`
      : '';
  const all = remedies.length > 1 ? ', all of these' : '';
  return `the largest term is ${largest}, ${shown(sigma)} (without it ${shown(rest)}); to meet the wish${all}: ${remedies.join('; ')}${beyond}`;
}
