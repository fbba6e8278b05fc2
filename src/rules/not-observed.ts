/**
 * Rule not-observed: every degree of freedom of the part shows in some reading. A warning, since a part with rotational
 * symmetry needs no more; an error where `wanted` asks for that degree.
 */

import { motionDegrees } from '../metrology/estimate/free-motion.ts';
import { freedomOf } from '../metrology/estimate/pose-estimate.ts';
import { isReadable } from '../metrology/sensing/readable-return.ts';
import { DEGREES } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const notObserved = rule(
  {
    code: 'not-observed',
    severity: 'warning',
    scope: 'design',
    meaning: 'No patch, touch or measurement constrains a degree of freedom of the part.',
    limit: 'all six degrees of freedom; an error for those in `wanted`',
    remedy: 'Add a patch that senses it, or a measurement.',
    planning: { by: 'growth' },
  },
  (design) => {
    const { wanted } = design.scenario;
    const pose = freedomOf(design);
    const unread = design.patches.filter((patch) => !isReadable(design, patch)).map(({ id }) => id);
    return DEGREES.flatMap((degree, k): Found[] => {
      if (pose.free.observed[k]) return [];
      const isWanted = wanted[degree] !== undefined;
      const motions = pose.free.motions.filter((motion) => motionDegrees(motion, pose.size)[k]);
      return [
        {
          severity: isWanted ? 'error' : 'warning',
          where: isWanted ? `wanted.${degree}` : 'part',
          message:
            `${degree} of the part is not observed${isWanted ? ' but wanted' : ''}: ` +
            unconstrained(motions.map(({ words }) => words)),
          hint:
            (unread.length === 0
              ? ''
              : `too little light returns to ${unread.join(', ')}, whose readings do not count: mend that first, or `) +
            'add a measurement, or a patch that senses this motion on a reference that touches the part',
          path: isWanted ? ['wanted', degree] : ['part'],
        },
      ];
    });
  },
);

/** From `to turn about …` and `to move along …`: what nothing constrains, and what the part is therefore free to do. */
function unconstrained(motions: readonly string[]): string {
  const nouns = motions.map((words) => words.replace(/^to turn/, 'rotation').replace(/^to move/, 'motion'));
  const verbs = new Set(motions.map((words) => words.split(' ', 2).join(' ')));
  return `nothing constrains ${nouns.join(', or ')}; the part is free ${[...verbs].join(' and ')}`;
}
