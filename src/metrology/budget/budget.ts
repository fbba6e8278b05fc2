/**
 * Uncertainty budgets by JCGM 100:2008 (GUM): the law of propagation for a model of named inputs, correlated or not, with
 * effective degrees of freedom (G.4), coverage factor and expanded uncertainty, largest terms first.
 * Units are the caller's: u of an input in the input's unit, contributions and results in the output's.
 */
import { coverageFactor } from '../../algebra/student-t.ts';

export interface Input {
  readonly name: string;
  readonly value: number;
  /** Standard uncertainty. */
  readonly u: number;
  /** Degrees of freedom of u; Infinity where left out. */
  readonly degreesOfFreedom?: number;
}

export interface Correlation {
  readonly between: readonly [string, string];
  /** −1 to 1. */
  readonly r: number;
}

interface Contribution {
  readonly name: string;
  readonly u: number;
  readonly degreesOfFreedom: number;
  /** ∂f/∂x. */
  readonly sensitivity: number;
  /** |∂f/∂x| u(x), in the output's unit. */
  readonly contribution: number;
}

interface Budget {
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

interface BudgetOptions {
  readonly correlations?: readonly Correlation[];
  /** Probability of the expanded uncertainty. Default 0.95. */
  readonly coverage?: number;
  /** ∂f/∂x of each input where known in closed form; central differences otherwise. */
  readonly sensitivities?: readonly number[];
  /** Adds the next order of JCGM 100, 5.1.2, note, for a model that bends within u. Uncorrelated inputs only. */
  readonly secondOrder?: boolean;
}

/** Step of a central difference, in standard uncertainties: as far as the model matters. */
const DIFFERENCE_STEP = 0.1;

/**
 * Budget of y = model(values of the inputs, in their order).
 * Throws a RangeError for an uncertainty below 0, an unknown name or an impossible correlation.
 */
export function propagate(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
  options: BudgetOptions = {},
): Budget {
  requireInputs(inputs, options);
  const values = inputs.map((input) => input.value);
  const sensitivities = options.sensitivities ?? inputs.map((input, k) => slope(model, values, k, input.u));
  const contributions = inputs.map((input, k): Contribution => {
    const sensitivity = sensitivities[k]!;
    return {
      name: input.name,
      u: input.u,
      degreesOfFreedom: input.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
      sensitivity,
      contribution: Math.abs(sensitivity) * input.u,
    };
  });
  const extra = options.secondOrder ? secondOrderVariance(model, values, inputs, sensitivities) : 0;
  return combine(model(values), contributions, options.correlations ?? [], options.coverage ?? 0.95, extra);
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
    sum += contribution ** 4 / degreesOfFreedom;
  }
  return sum > 0 ? combined ** 4 / sum : Number.POSITIVE_INFINITY;
}

const shifted = (values: readonly number[], shifts: readonly (readonly [number, number])[]): number[] => {
  const moved = [...values];
  for (const [k, by] of shifts) moved[k]! += by;
  return moved;
};

function slope(
  model: (values: readonly number[]) => number,
  values: readonly number[],
  k: number,
  u: number,
): number {
  if (u === 0) return 0;
  const h = DIFFERENCE_STEP * u;
  return (model(shifted(values, [[k, h]])) - model(shifted(values, [[k, -h]]))) / (2 * h);
}

/** Σ_i Σ_j [½ f_ij² + f_i f_ijj] u_i² u_j², derivatives by central differences over one standard uncertainty. */
function secondOrderVariance(
  model: (values: readonly number[]) => number,
  values: readonly number[],
  inputs: readonly Input[],
  sensitivities: readonly number[],
): number {
  // In units of u: f_i u_i and so on, so that no step is divided out again.
  const at = (...shifts: (readonly [number, number])[]): number =>
    model(
      shifted(
        values,
        shifts.map(([k, by]) => [k, by * inputs[k]!.u] as const),
      ),
    );
  const centre = at();
  let sum = 0;
  inputs.forEach((_, i) => {
    inputs.forEach((_, j) => {
      const mixed =
        i === j
          ? at([i, 1]) - 2 * centre + at([i, -1])
          : (at([i, 1], [j, 1]) - at([i, 1], [j, -1]) - at([i, -1], [j, 1]) + at([i, -1], [j, -1])) / 4;
      const third =
        i === j
          ? (at([i, 2]) - 2 * at([i, 1]) + 2 * at([i, -1]) - at([i, -2])) / 2
          : (at([i, 1], [j, 1]) -
              2 * at([i, 1]) +
              at([i, 1], [j, -1]) -
              at([i, -1], [j, 1]) +
              2 * at([i, -1]) -
              at([i, -1], [j, -1])) /
            2;
      sum += (mixed * mixed) / 2 + sensitivities[i]! * inputs[i]!.u * third;
    });
  });
  return sum;
}

function requireInputs(inputs: readonly Input[], options: BudgetOptions): void {
  const names = new Set(inputs.map((input) => input.name));
  if (names.size < inputs.length) throw new RangeError('two inputs of a budget have the same name');
  for (const { name, u, degreesOfFreedom } of inputs) {
    if (!(u >= 0) || !Number.isFinite(u)) {
      throw new RangeError(`the uncertainty of ${name} is ${u}; expected a number from 0`);
    }
    if (degreesOfFreedom !== undefined && !(degreesOfFreedom > 0)) {
      throw new RangeError(
        `the degrees of freedom of ${name} are ${degreesOfFreedom}; expected a number above 0`,
      );
    }
  }
  for (const { between, r } of options.correlations ?? []) {
    for (const name of between) {
      if (!names.has(name))
        throw new RangeError(`a correlation names ${name}, which is no input of this budget`);
    }
    if (between[0] === between[1] || !(Math.abs(r) <= 1)) {
      throw new RangeError(
        `the correlation of ${between.join(' and ')} is ${r}; expected −1 to 1 between two inputs`,
      );
    }
  }
  if (options.sensitivities !== undefined && options.sensitivities.length !== inputs.length) {
    throw new RangeError(`${options.sensitivities.length} sensitivities for ${inputs.length} inputs`);
  }
  if (options.secondOrder && (options.correlations ?? []).length > 0) {
    throw new RangeError('the second order is defined for uncorrelated inputs only');
  }
}
