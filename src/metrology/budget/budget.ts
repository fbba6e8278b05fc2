/**
 * Uncertainty budgets by JCGM 100:2008 (GUM): named contributions, correlated or not, combined, with effective degrees of freedom
 * (G.4), coverage factor and expanded uncertainty, largest terms first. Units are the caller's: u of an input in the input's
 * unit, contributions and results in the output's.
 */
import { coverageFactor } from '../../algebra/distributions.ts';

export interface Correlation {
  readonly between: readonly [string, string];
  /** −1 to 1. */
  readonly r: number;
}

export interface Contribution {
  readonly name: string;
  readonly u: number;
  readonly degreesOfFreedom: number;
  /** ∂f/∂x. */
  readonly sensitivity: number;
  /** |∂f/∂x| u(x), in the output's unit. */
  readonly contribution: number;
}

export interface Budget {
  readonly value: number;
  /** Combined standard uncertainty u_c. */
  readonly combined: number;
  /** Largest first; equal ones in the order of the inputs. */
  readonly contributions: readonly Contribution[];
  /** Welch–Satterthwaite; Infinity where no input limits it. Meant for uncorrelated inputs (JCGM 100, G.4.1). */
  readonly effectiveDegreesOfFreedom: number;
  readonly coverage: number;
  /** k, for the effective degrees of freedom truncated to a whole number (JCGM 100, G.4.1). */
  readonly coverageFactor: number;
  readonly expanded: number;
}

/** Budget of contributions already known; `extraVariance` is added to that of the terms. */
export function combine(
  value: number,
  contributions: readonly Contribution[],
  correlations: readonly Correlation[] = [],
  coverage = 0.95,
  extraVariance = 0,
): Budget {
  let variance = extraVariance;
  for (const { contribution } of contributions) variance += contribution * contribution;
  for (const { between, r } of correlations) {
    const [one, other] = between.map((name) => contributions.find((c) => c.name === name));
    if (one === undefined || other === undefined) {
      throw new RangeError(`a correlation between ${between.join(' and ')} names no input of this budget`);
    }
    variance += 2 * r * one.sensitivity * one.u * other.sensitivity * other.u;
  }
  // Perfect correlations may cancel to a variance a rounding below 0.
  const combined = Math.sqrt(Math.max(0, variance));
  const effective = effectiveDegreesOfFreedom(combined, contributions);
  const factor = coverageFactor(coverage, Math.max(1, Math.floor(effective)));
  return {
    value,
    combined,
    contributions: contributions.toSorted((a, b) => b.contribution - a.contribution),
    effectiveDegreesOfFreedom: effective,
    coverage,
    coverageFactor: factor,
    expanded: factor * combined,
  };
}

/** Welch–Satterthwaite, JCGM 100, eq. (G.2b). */
export function effectiveDegreesOfFreedom(
  combined: number,
  contributions: readonly Pick<Contribution, 'contribution' | 'degreesOfFreedom'>[],
): number {
  let sum = 0;
  for (const { contribution, degreesOfFreedom } of contributions) {
    sum += (contribution ** 2) ** 2 / degreesOfFreedom;
  }
  return sum > 0 ? (combined ** 2) ** 2 / sum : Number.POSITIVE_INFINITY;
}
