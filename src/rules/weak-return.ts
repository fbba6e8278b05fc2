/**
 * Rule weak-return: four fifths of a patch's light come back to the camera, by a trace to the real ball or cube. The share that is
 * lost shortens the patch, and a reading gets as much worse as the patch gets shorter (it resolves rλs/2D). What returns too little to be
 * read at all is no-return's matter.
 */
import { LEAST_ANSWER } from '../metrology/sensing/capture-range.ts';
import { doubtfulReturn, LEAST_RETURNED } from '../metrology/sensing/readable-return.ts';
import { tooLittle } from './return-words.ts';
import { rule } from './rule.ts';

export const weakReturn = rule(
  {
    code: 'weak-return',
    severity: 'warning',
    scope: 'patch',
    meaning: 'Less than 80 % of a patch’s light returns, by a trace to the real ball or cube.',
    limit: '80 % of the light',
    remedy:
      'Turn or roll the retroreflector, shorten the patch, or use a larger reference; a ball needs a point focus, a cube a line focus.',
    planning: { by: 'moving' },
  },
  (design) =>
    design.patches.flatMap((patch, i) => {
      const light = doubtfulReturn(design, patch);
      const isWeak = light !== undefined && light.share >= LEAST_ANSWER && light.share < LEAST_RETURNED;
      return isWeak ? [tooLittle(patch, i, light, LEAST_RETURNED)] : [];
    }),
);
