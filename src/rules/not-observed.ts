/**
 * Rule not-observed: every degree of freedom of the part shows in some reading. A warning, since a part with rotational
 * symmetry needs no more; an error where `wanted` asks for that degree.
 */

import { motionDegrees } from '../metrology/estimate/free-motion.ts';
import { freedomOf } from '../metrology/estimate/pose-estimate.ts';
import { DEGREES } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const notObserved = rule(
  {
    code: 'not-observed',
    severity: 'warning',
    scope: 'design',
    meaning: 'A degree of freedom of the part is seen by no patch, touch or measurement.',
    limit: 'all six degrees of freedom; an error for those in `wanted`',
    remedy: 'Add a patch whose line senses it, or a measurement.',
    planning: { by: 'growth' },
  },
  (design) => {
    const { wanted } = design.scenario;
    const pose = freedomOf(design);
    return DEGREES.flatMap((degree, k): Found[] => {
      if (pose.free.observed[k]) return [];
      const isWanted = wanted[degree] !== undefined;
      const motions = pose.free.motions.filter((motion) => motionDegrees(motion, pose.size)[k]);
      return [
        {
          severity: isWanted ? 'error' : 'warning',
          where: isWanted ? `wanted.${degree}` : 'part',
          message:
            `${degree} of the part is not observed${isWanted ? ' but wanted' : ''}: no patch, touch or measurement shows ` +
            `that the part is free ${motions.map(({ words }) => words).join(', and ')}`,
          hint: 'add a patch whose line senses that motion at a reference held against it, or a measurement',
          path: isWanted ? ['wanted', degree] : ['part'],
        },
      ];
    });
  },
);
