/** Rule keep-out: every patch stays `substrate.clearance` away from every keep-out (exact gap between the regions, mm; negative: by how much they overlap). */
import type { Finding } from '../finding/finding.ts';
import { signedGap } from '../geometry/overlap.ts';
import { LENGTH_TOLERANCE, mm, type Rule } from './rule.ts';

export const keepOut: Rule = (design) => {
  const { clearance } = design.scenario.substrate;
  const findings: Finding[] = [];
  design.patches.forEach((patch, i) => {
    for (const zone of design.scenario.keepOuts) {
      const gap = signedGap(patch.outline, zone.outline);
      if (gap >= clearance - LENGTH_TOLERANCE) continue;
      const found =
        gap < 0 ? `reaches ${mm(-gap)} into keep-out ${zone.id}` : `is ${mm(gap)} from keep-out ${zone.id}`;
      findings.push({
        severity: 'error',
        rule: 'keep-out',
        where: `${patch.id}, ${zone.id}`,
        message: `patch ${patch.id} ${found}; the least gap allowed is ${mm(clearance)}`,
        hint: 'move or shrink the patch',
        value: gap,
        limit: clearance,
        unit: 'mm',
        path: ['patches', i, 'id'],
      });
    }
  });
  return findings;
};
