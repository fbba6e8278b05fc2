/**
 * Rule bias-cancels: the fringes that the traced return shows at the design place are those the bias asks for.
 * A corner cube sends the light back through the point opposite along the line, so a bias odd along the line cancels.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { kindOf } from '../kinds/kinds.ts';
import { seenAtNull } from '../metrology/sensing/null-fringes.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

/** Fringes: half of what a reading to a tenth of a fringe tells apart, and the same share of a larger bias. */
const SEEN_WITHIN = 0.05;

export const biasCancels = rule(
  {
    code: 'bias-cancels',
    severity: 'error',
    scope: 'patch',
    meaning: 'The traced return does not show the fringes that the bias asks for.',
    limit: '0.05 fringe, or 5 % of a larger bias',
    remedy: 'Use a roof on a line focus; a cube cancels a tilt along the line.',
    planning: { by: 'moving', rank: 9 },
  },
  (design) =>
    design.patches.flatMap((patch, i) => {
      const finding = patch.bias && judge(design, patch, i);
      return finding ? [finding] : [];
    }),
);

function judge(design: Design, patch: DesignedPatch, index: number): Found | undefined {
  const { read, words } = kindOf(patch.reference);
  if (patch.bias === undefined || read === 'mark') return undefined;
  const { shape, fringes } = patch.bias;
  const atNull = seenAtNull(design, patch);
  const common = { where: patch.id, limit: fringes, unit: 'fringes', path: ['patches', index, 'bias'] };
  if ('uncounted' in atNull) {
    return {
      ...common,
      message:
        `patch ${patch.id} asks for a ${shape} of ${trimmed(fringes, 3)} fringes, but what the traced return shows cannot be ` +
        `counted: ${atNull.uncounted}`,
      hint: 'make the patch longer along the bias, or check that its light returns',
    };
  }
  const seen = atNull.fringes;
  if (Math.abs(seen - fringes) <= SEEN_WITHIN * Math.max(1, fringes)) return undefined;
  const why = (shape === 'tilt' ? words.noTilt : undefined) ?? 'the round trip does not double it';
  return {
    ...common,
    message:
      `patch ${patch.id} asks for a ${shape} of ${trimmed(fringes, 3)} fringes, but the traced return shows ` +
      `${trimmed(seen, 3)}: ${why}`,
    hint:
      shape === 'tilt'
        ? 'use `shape: roof`, which survives the return'
        : 'check the reference and the outline',
    value: seen,
  };
}
