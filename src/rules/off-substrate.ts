/** Rule off-substrate: every patch lies on the glass, `substrate.edgeMargin` away from its edges (exact, mm). */

import { patternsOf } from '../design/design.ts';
import { insideMargin } from '../geometry/clearance.ts';
import type { Found } from './rule.ts';
import { LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const offSubstrate = rule(
  {
    code: 'off-substrate',
    severity: 'error',
    scope: 'patch',
    meaning: 'A patch extends past the substrate’s edge, or is closer to it than `substrate.edgeMargin`.',
    limit: 'substrate.edgeMargin',
    remedy: 'Move the patch inward.',
    planning: { by: 'moving', rank: 1, ring: true, helps: 'a larger substrate or a smaller patch' },
  },
  (design) => {
    const { outline, edgeMargin } = design.scenario.substrate;
    const findings: Found[] = [];
    for (const { pattern, name, path } of patternsOf(design)) {
      const margin = insideMargin(outline, pattern.outline);
      if (margin >= edgeMargin - LENGTH_TOLERANCE) continue;
      const found =
        margin < 0
          ? `extends ${mm(-margin)} past the substrate's edge`
          : `is ${mm(margin)} from the substrate's edge`;
      findings.push({
        where: pattern.id,
        message: `${name} ${found}; the edge margin is ${mm(edgeMargin)}`,
        hint: 'move the patch inward or shrink it',
        value: margin,
        limit: edgeMargin,
        unit: 'mm',
        path,
      });
    }
    return findings;
  },
);
