/** Rule patch-overlap: any two patches stand at least `substrate.clearance` apart (exact gap between the regions, mm; negative: by how much they overlap). */

import { patternsOf } from '../design/design.ts';
import { signedGap } from '../geometry/clearance.ts';
import { nearPairs } from '../geometry/outline-index.ts';
import type { Found } from './rule.ts';
import { LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const patchOverlap = rule(
  {
    code: 'patch-overlap',
    severity: 'error',
    scope: 'design',
    meaning: 'Two patches overlap, or are closer than `substrate.clearance`.',
    limit: 'substrate.clearance',
    remedy: 'Move or shrink one of the two.',
    planning: { by: 'moving', ring: true, helps: 'fewer or smaller patches, or a larger substrate' },
  },
  (design) => {
    const { clearance } = design.scenario.substrate;
    const patterns = patternsOf(design);
    const findings: Found[] = [];
    for (const [i, j] of nearPairs(
      patterns.map(({ pattern }) => pattern.outline),
      clearance,
    )) {
      const [first, second] = [patterns[i].pattern, patterns[j].pattern];
      const names =
        first === design.main
          ? `${patterns[i].name} and ${patterns[j].name}`
          : `patches ${first.id} and ${second.id}`;
      const gap = signedGap(first.outline, second.outline);
      if (gap >= clearance - LENGTH_TOLERANCE) continue;
      const found = gap < 0 ? `overlap by ${mm(-gap)}` : `are ${mm(gap)} apart`;
      findings.push({
        where: `${first.id}, ${second.id}`,
        patches: [first.id, second.id],
        message: `${names} ${found}; the minimum gap is ${mm(clearance)}`,
        hint: 'move or shrink one of the two',
        value: gap,
        limit: clearance,
        unit: 'mm',
        path: patterns[j].path,
      });
    }
    return findings;
  },
);
