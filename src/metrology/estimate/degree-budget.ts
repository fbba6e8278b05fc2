/**
 * Of each degree of freedom of the part: what is wanted, what the full budget reaches, and the term that adds most to it. Standard
 * uncertainties, mm and rad, as in pose.ts; without its Monte Carlo, so that it costs nothing beside the rules.
 */
import type { Design } from '../../design/design.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import type { Term } from '../budget/error-source.ts';
import { combinedSigmaOf, variancesByTerm } from './pose.ts';
import { poseOf } from './pose-estimate.ts';

interface DegreeBudget {
  readonly degree: Degree;
  /** Undefined where the scenario asks for nothing. */
  readonly wanted: number | undefined;
  /** Null where the degree is not observed. */
  readonly reached: number | null;
  readonly largest: { readonly term: Term; readonly sigma: number } | null;
}

export function degreeBudgets(design: Design): readonly DegreeBudget[] {
  const pose = poseOf(design);
  return DEGREES.map((degree, k): DegreeBudget => {
    const wanted = design.scenario.wanted[degree];
    const reached = combinedSigmaOf(pose, k);
    if (reached === null) return { degree, wanted, reached, largest: null };
    const [term, variance] = variancesByTerm(pose, k)[0]!;
    return { degree, wanted, reached, largest: { term, sigma: Math.sqrt(variance) } };
  });
}
