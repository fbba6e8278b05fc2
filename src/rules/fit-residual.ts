/**
 * Rule fit-residual: the polynomial of coefficients.csv, which a fabricator writes by, is within the stated bound of the phase all over
 * the patch. Waves. Of a wave from an axis, ρ has to be made of powers of ρ²: the nearer the axis against the ring's width, the more
 * of them it takes. Waves to or from a point or a line are smooth beyond any patch that can be written, and are not fitted here. The main
 * pattern is, and a ring on an asphere, unless its phase is so smooth that a polynomial surely holds it.
 */
import type { MainPattern } from '../design/main-pattern.ts';
import type { Pattern } from '../design/pattern.ts';
import { FIT_BOUND, fitPhase } from '../design/phase-fit.ts';
import { isSurelyHeld } from '../design/phase-series.ts';
import type { Path } from '../finding/finding.ts';
import type { Sag } from '../geometry/sag.ts';
import type { DatumSurface } from '../optics/datum-surface.ts';
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
    remedy:
      'Make the ring narrower, or place it farther from the axis of its cone or torus; of the main pattern, make the aperture smaller or move the part.',
    planning: { by: 'moving' },
  },
  (design) => [
    ...(design.main === undefined ? [] : mainMissed(design.main)),
    ...design.patches.flatMap((patch, i): readonly Found[] => {
      const { normalIncidence, reference } = patch;
      const surface = normalIncidence?.surface;
      if (surface === undefined || !FITTED.includes(surface.shape)) return [];
      const isSag = surface.shape === 'sag';
      if (isSag && isSmooth(surface.sag, patch)) return [];
      const farther = isSag ? '' : `, or place it farther from the axis of datum ${reference.datum}`;
      const hint = `make the ring narrower${farther}`;
      return missed(patch, `patch ${patch.id}`, hint, ['patches', i, 'outline']);
    }),
  ],
);

const FITTED: readonly DatumSurface['shape'][] = ['cone', 'torus', 'sag'];

/** Between a grid's nodes the surface may do anything: only the fit looks closely enough. */
const isSmooth = ({ isPieced }: Sag, pattern: Pattern): boolean =>
  isPieced !== true && isSurelyHeld(pattern, FIT_BOUND);

function mainMissed(main: MainPattern): readonly Found[] {
  if (isSmooth(main.surface.sag, main)) return [];
  const hint = `make the aperture of the test smaller, or move the part so that the normals of surface ${main.test.surface} cross farther from the pattern`;
  return missed(main, 'the main pattern', hint, ['test', 'aperture']);
}

function missed(pattern: Pattern, name: string, hint: string, path: Path): readonly Found[] {
  const { degree, residual } = fitPhase(pattern);
  if (residual.worst <= FIT_BOUND) return [];
  const [x, y] = residual.worstAt;
  return [
    {
      where: pattern.id,
      message:
        `the coefficients of ${name}, to degree ${degree}, miss its phase by ${trimmed(residual.worst, 4)} waves at ` +
        `x ${trimmed(x, 3)} mm, y ${trimmed(y, 3)} mm; the tables promise ${FIT_BOUND} waves`,
      ...{ hint, value: residual.worst, limit: FIT_BOUND, unit: 'waves', path },
    },
  ];
}
