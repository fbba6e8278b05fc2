/**
 * Rule no-return: a quarter of a patch's light comes back to the camera at least, by a trace to the real ball or cube. Below that its
 * fringes are taken as unreadable: its readings do not count for the places of its reference and of the part.
 */
import { LEAST_ANSWER } from '../metrology/sensing/capture-range.ts';
import { doubtfulReturn } from '../metrology/sensing/readable-return.ts';
import { tooLittle } from './return-words.ts';
import { rule } from './rule.ts';

export const noReturn = rule(
  {
    code: 'no-return',
    severity: 'error',
    scope: 'patch',
    meaning:
      'Less than 25 % of a patch’s light returns, by a trace to the real ball or cube: it cannot be read, and its readings do not count.',
    limit: '25 % of the light',
    remedy:
      'Use a line focus on a retroreflector and a point focus on a ball; turn or roll the retroreflector, shorten the patch, or use a larger reference.',
    planning: {
      by: 'moving',
      rank: 10,
      helps:
        'a line focus for a retroreflector, a point focus for a ball, or a reference that faces the patch',
    },
  },
  (design) =>
    design.patches.flatMap((patch, i) => {
      const light = doubtfulReturn(design, patch);
      if (light === undefined || light.share >= LEAST_ANSWER) return [];
      return [tooLittle(patch, i, light, LEAST_ANSWER, '; its readings do not count')];
    }),
);
