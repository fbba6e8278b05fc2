/**
 * Rule fit-residual: the polynomial of coefficients.csv, which a fabricator writes by, is within the stated bound of the phase all over
 * the patch. Waves. Of a wave from an axis, ρ has to be made of powers of ρ²: the nearer the axis against the ring's width, the more
 * of them it takes. Waves to or from a point or a line are smooth beyond any patch that can be written, and are not fitted here.
 */
import { FIT_BOUND, fitPhase } from '../design/phase-fit.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const fitResidual = rule(
  {
    code: 'fit-residual',
    severity: 'error',
    scope: 'patch',
    meaning:
      'The polynomial in the coefficient tables misses the phase of a patch by more than the tables promise.',
    limit: `${FIT_BOUND} waves anywhere in the patch`,
    remedy: 'Make the ring narrower, or place it farther from the axis of its cone or torus.',
    planning: { by: 'moving' },
  },
  (design) =>
    design.patches.flatMap((patch, i): Found[] => {
      const { normalIncidence } = patch;
      if (normalIncidence === undefined || !('axis' in normalIncidence.surface)) return [];
      const { degree, residual } = fitPhase(patch);
      if (residual.worst <= FIT_BOUND) return [];
      const [x, y] = residual.worstAt;
      return [
        {
          where: patch.id,
          message:
            `the coefficients of patch ${patch.id}, to degree ${degree}, miss its phase by ${trimmed(residual.worst, 4)} waves at ` +
            `x ${trimmed(x, 3)} mm, y ${trimmed(y, 3)} mm; the tables promise ${FIT_BOUND} waves`,
          hint: `make the ring narrower, or place it farther from the axis of datum ${patch.reference.datum}`,
          value: residual.worst,
          limit: FIT_BOUND,
          unit: 'waves',
          path: ['patches', i, 'outline'],
        },
      ];
    }),
);
