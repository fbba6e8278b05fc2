/** Rule unlit: every patch lies wholly in the interferometer's beam, as wide as it is at the pattern (mm). */

import { patternsOf } from '../design/design.ts';
import { largestDistanceFrom } from '../geometry/extent.ts';
import type { Found } from './rule.ts';
import { LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const unlit = rule(
  {
    code: 'unlit',
    severity: 'error',
    scope: 'patch',
    meaning: 'A patch extends outside the interferometer’s beam.',
    limit: 'the beam’s radius at the pattern',
    remedy: 'Move the patch inward, or use a faster beam.',
    planning: { by: 'moving', rank: 4, ring: true, helps: 'a faster beam, or a patch closer to its axis' },
  },
  (design) => {
    const { centre, radius } = design.beam;
    if (radius === undefined) return [];
    const findings: Found[] = [];
    for (const { pattern, name, path } of patternsOf(design)) {
      const reach = largestDistanceFrom(pattern.outline, centre);
      if (reach <= radius + LENGTH_TOLERANCE) continue;
      findings.push({
        where: pattern.id,
        message: `${name} extends to ${mm(reach)} from the beam's axis; the beam's radius at the pattern is ${mm(radius)}`,
        hint: 'move the patch inward, or use a faster beam',
        value: reach,
        limit: radius,
        unit: 'mm',
        path,
      });
    }
    return findings;
  },
);
