/**
 * Rule misses-figure: what misalignment is expected to leave in the measured figure, aligned as the design allows, is no more than
 * `test.figure`: rms of surface height after what the evaluation removes, by the whole budget. A motion that no reading sees and that
 * leaves something has no expectation, and is a finding too; so is a part so far off its own null that the second order misses the figure.
 */
import type { Design } from '../design/design.ts';
import { remediesFor } from '../metrology/estimate/wish-advice.ts';
import { type FigureError, figureError, withSecondOrder } from '../metrology/null/figure-error.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import { type Found, named, rule } from './rule.ts';

/** An expectation at the limit itself meets it: rounding decides no design. */
const RELATIVE_ROUNDING = 1e-9;

export const missesFigure = rule(
  {
    code: 'misses-figure',
    severity: 'error',
    scope: 'design',
    meaning: 'Misalignment is expected to leave more in the measured figure than `test.figure` allows.',
    limit: 'test.figure',
    remedy:
      'Reduce the largest causes as the finding says, observe the motion that it names, or remove the term that it leaves from the evaluation.',
    planning: { by: 'growth' },
  },
  (design) => {
    const allowed = design.scenario.test?.figure;
    const error = allowed === undefined ? undefined : figureError(design);
    if (allowed === undefined || error === undefined) return [];
    if (error.expected === null) return [unseen(error, allowed)];
    if (error.expected <= allowed * (1 + RELATIVE_ROUNDING)) return offNull(error, error.expected, allowed);
    return [tooMuch(design, error, error.expected, allowed)];
  },
);

const PATH = ['test', 'figure'];
const nm = (value: number): string => `${trimmed(value * NM_PER_MM, 2)} nm`;

function tooMuch(design: Design, error: FigureError, expected: number, allowed: number): Found {
  const { p95, mostly, shares, terms } = error;
  const [[largest, most]] = terms as [FigureError['terms'][number]];
  const remedies = remediesFor(design, terms, allowed * allowed).map(({ words }) => words);
  return {
    where: 'test.figure',
    message:
      `misalignment is expected to leave ${nm(expected)} rms in the measured figure (95 %: ${nm(p95!)}); allowed: ${nm(allowed)}` +
      `; mostly ${mostly}, ${trimmed(100 * shares[mostly!], 0)} % of its square`,
    hint:
      `the largest term is ${largest}, ${nm(Math.sqrt(most))}; to meet the figure${remedies.length > 1 ? ', all of these' : ''}: ` +
      remedies.join('; '),
    ...{ value: expected * NM_PER_MM, limit: allowed * NM_PER_MM, unit: 'nm', path: PATH },
  };
}

/** Enough for a part that is set to its own null, too much for one that stays where the readings put it. */
function offNull(error: FigureError, expected: number, allowed: number): readonly Found[] {
  const whole = withSecondOrder(error);
  if (whole === undefined || whole <= allowed) return [];
  return [
    {
      severity: 'warning',
      where: 'test.figure',
      message:
        `misalignment is expected to leave ${nm(whole)} rms in the measured figure while the part stands off its own null as far as the ` +
        `readings let it; ${nm(expected)} once the null shows few fringes; allowed: ${nm(allowed)}`,
      hint: 'set tilt and power of the null itself before the figure is measured, or have the references read more finely',
      ...{ value: whole * NM_PER_MM, limit: allowed * NM_PER_MM, unit: 'nm', path: PATH },
    },
  ];
}

/** An error where setting by eye would not keep the figure; otherwise it might. */
function unseen({ unseen: motions, byEye }: FigureError, allowed: number): Found {
  const free = motions.map(({ words, left }) => `${words} (${nm(left)} rms)`);
  return {
    severity: byEye > allowed ? 'error' : 'warning',
    where: 'test.figure',
    message:
      `no reading bounds what misalignment leaves in the measured figure: the part is free ${named(free)}; ` +
      `set by eye it would leave about ${nm(byEye)} rms; allowed: ${nm(allowed)}`,
    hint: 'add a patch that senses this motion on a reference that touches the part, or a measurement',
    path: PATH,
  };
}
