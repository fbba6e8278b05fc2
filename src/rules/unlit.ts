/** Rule unlit: every patch lies wholly in the interferometer's beam, as wide as it is at the pattern (mm). */
import type { Finding } from '../finding/finding.ts';
import { largestDistanceFrom } from '../geometry/extent.ts';
import { LENGTH_TOLERANCE, mm, type Rule } from './rule.ts';

export const unlit: Rule = (design) => {
  const { centre, radius } = design.beam;
  if (radius === undefined) return [];
  const findings: Finding[] = [];
  design.patches.forEach((patch, i) => {
    const reach = largestDistanceFrom(patch.outline, centre);
    if (reach <= radius + LENGTH_TOLERANCE) return;
    findings.push({
      severity: 'error',
      rule: 'unlit',
      where: patch.id,
      message: `patch ${patch.id} reaches ${mm(reach)} from the beam's axis; the beam's radius at the pattern is ${mm(radius)}`,
      hint: 'move the patch inward, or use a faster beam',
      value: reach,
      limit: radius,
      unit: 'mm',
      path: ['patches', i, 'id'],
    });
  });
  return findings;
};
