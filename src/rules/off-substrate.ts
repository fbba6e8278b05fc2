/** Rule off-substrate: every patch lies on the glass, `substrate.edgeMargin` away from its edges (exact, mm). */
import type { Finding } from '../finding/finding.ts';
import { insideMargin } from '../geometry/clearance.ts';
import { LENGTH_TOLERANCE, mm, type Rule } from './rule.ts';

export const offSubstrate: Rule = (design) => {
  const { outline, edgeMargin } = design.scenario.substrate;
  const findings: Finding[] = [];
  design.patches.forEach((patch, i) => {
    const margin = insideMargin(outline, patch.outline);
    if (margin >= edgeMargin - LENGTH_TOLERANCE) return;
    const found =
      margin < 0
        ? `reaches ${mm(-margin)} past the substrate's edge`
        : `is ${mm(margin)} from the substrate's edge`;
    findings.push({
      severity: 'error',
      rule: 'off-substrate',
      where: patch.id,
      message: `patch ${patch.id} ${found}; the edge margin is ${mm(edgeMargin)}`,
      hint: 'move the patch inward or shrink it',
      value: margin,
      limit: edgeMargin,
      unit: 'mm',
      path: ['patches', i, 'id'],
    });
  });
  return findings;
};
