/**
 * Rule feature-too-small: min(duty, 1 − duty) times the smallest period anywhere in the patch is at least
 * `process.minFeature`.
 */

import { patternsOf } from '../design/design.ts';
import { periodFloor, periodRange } from '../design/period-range.ts';
import { UM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const featureTooSmall = rule(
  {
    code: 'feature-too-small',
    severity: 'error',
    scope: 'patch',
    meaning: 'The smallest written feature of a patch is below `process.minFeature`.',
    limit: 'process.minFeature',
    remedy:
      'Move the patch closer to the straight line from the beam’s focus to its reference, or use a finer process.',
    planning: {
      by: 'moving',
      rank: 7,
      ring: true,
      helps: 'a finer process, or a reference closer to the straight line of the beam',
    },
  },
  (design) => {
    const { minFeature, dutyCycle } = design.scenario.process;
    const share = Math.min(dutyCycle, 1 - dutyCycle);
    const findings: Found[] = [];
    for (const { pattern, name, path } of patternsOf(design)) {
      if (share * periodFloor(pattern) >= minFeature) continue;
      const { min, minAt } = periodRange(pattern);
      const feature = share * min * UM_PER_MM;
      const least = minFeature * UM_PER_MM;
      if (feature >= least) continue;
      findings.push({
        where: pattern.id,
        message:
          `${name} has features down to ${trimmed(feature, 4)} µm (period ${trimmed(min * UM_PER_MM, 4)} µm at ` +
          `x ${trimmed(minAt[0], 3)} mm, y ${trimmed(minAt[1], 3)} mm); the minimum is ${trimmed(least, 4)} µm`,
        hint: 'move the patch closer to the straight line from the beam to its reference, or use a finer process',
        value: feature,
        limit: least,
        unit: 'um',
        path,
      });
    }
    return findings;
  },
);
