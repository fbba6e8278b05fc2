/** Rule keep-out: every patch stays `substrate.clearance` away from every keep-out (exact gap between the regions, mm; negative: by how much they overlap). */

import { patternsOf } from '../design/design.ts';
import { signedGap } from '../geometry/clearance.ts';
import type { Found } from './rule.ts';
import { LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const keepOut = rule(
  {
    code: 'keep-out',
    severity: 'error',
    scope: 'patch',
    meaning: 'A patch overlaps a keep-out, or is closer to it than `substrate.clearance`.',
    limit: 'substrate.clearance',
    remedy: 'Move or shrink the patch.',
    planning: { by: 'moving', rank: 2, ring: true, helps: 'a smaller keep-out or a smaller patch' },
  },
  (design) => {
    const { clearance } = design.scenario.substrate;
    const findings: Found[] = [];
    for (const { pattern, name, path } of patternsOf(design)) {
      for (const zone of design.scenario.keepOuts) {
        const gap = signedGap(pattern.outline, zone.outline);
        if (gap >= clearance - LENGTH_TOLERANCE) continue;
        const found =
          gap < 0 ? `extends ${mm(-gap)} into keep-out ${zone.id}` : `is ${mm(gap)} from keep-out ${zone.id}`;
        findings.push({
          where: `${pattern.id}, ${zone.id}`,
          message: `${name} ${found}; the minimum gap is ${mm(clearance)}`,
          hint: 'move or shrink the patch',
          value: gap,
          limit: clearance,
          unit: 'mm',
          path,
        });
      }
    }
    return findings;
  },
);
