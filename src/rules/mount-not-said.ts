/**
 * Rule mount-not-said: a reference whose place is given in the substrate frame says what carries it. Left out, it is counted as fixed to
 * the part, which is too kind to one that stands on a mount of its own. Asked of designs that wish for an accuracy of the part.
 */
import { kindOf } from '../kinds/kinds.ts';
import { readingsOf } from '../metrology/budget/readings.ts';
import { asksAccuracy } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { named, rule } from './rule.ts';

export const mountNotSaid = rule(
  {
    code: 'mount-not-said',
    severity: 'warning',
    scope: 'design',
    meaning: 'A reference at a place in the substrate frame does not say whether the part carries it.',
    limit: '`frame: part`, `frame: substrate` or `touches`',
    remedy:
      'Write `frame: part` (and `at` in the part frame) for what the part carries, `frame: substrate` for a mount of its own.',
    planning: { by: 'growth' },
  },
  (design): readonly Found[] => {
    const { references } = design.scenario;
    if (!asksAccuracy(design.scenario)) return [];
    const read = new Set(readingsOf(design).map(({ reference }) => reference));
    const unsaid = design.references.filter(
      (reference) =>
        read.has(reference) &&
        kindOf(reference).inScenario.place === 'given' &&
        reference.movesWith === undefined,
    );
    if (unsaid.length === 0) return [];
    const ids = unsaid.map(({ id }) => id);
    const one = ids.length === 1;
    return [
      {
        where: ids[0]!,
        message: `nothing says what carries ${named(ids)}: ${one ? 'it is' : 'they are'} counted as fixed to the part`,
        hint: 'write `frame: part` with `at` in the part frame, or `frame: substrate` if each stands on a mount of its own',
        path: ['references', references.findIndex(({ id }) => id === ids[0]), 'at'],
      },
    ];
  },
);
