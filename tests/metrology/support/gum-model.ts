/**
 * The law of propagation of JCGM 100:2008 for a model of named inputs, by difference quotients, with the Type A evaluation of
 * repeated observations (4.2 and 5.2.3): what carries the published examples to the budget that src/ combines.
 */
import {
  type Budget,
  type Contribution,
  type Correlation,
  combine,
} from '../../../src/metrology/budget/budget.ts';

export interface Input {
  readonly name: string;
  readonly value: number;
  /** Standard uncertainty. */
  readonly u: number;
  /** Degrees of freedom of u; Infinity where left out. */
  readonly degreesOfFreedom?: number;
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

/**
 * Inputs of a budget from sets of observations taken together: `observations[name][k]` is that quantity in set k.
 * Throws a RangeError for fewer than two sets, or sets of different sizes.
 */
export function inputsFromObservations(observations: Readonly<Record<string, readonly number[]>>): {
  readonly inputs: readonly Input[];
  readonly correlations: readonly Correlation[];
} {
  const names = Object.keys(observations);
  const count = observations[names[0] ?? '']?.length ?? 0;
  if (count < 2 || names.some((name) => observations[name]!.length !== count)) {
    throw new RangeError(`${names.join(', ')} were not all observed together at least twice`);
  }
  const means = names.map((name) => observations[name]!.reduce((sum, x) => sum + x, 0) / count);
  const covariance = (i: number, j: number): number => {
    let sum = 0;
    for (let k = 0; k < count; k++) {
      sum += (observations[names[i]!]![k]! - means[i]!) * (observations[names[j]!]![k]! - means[j]!);
    }
    return sum / (count * (count - 1));
  };
  const inputs = names.map((name, i): Input => {
    return { name, value: means[i]!, u: Math.sqrt(covariance(i, i)), degreesOfFreedom: count - 1 };
  });
  const correlations: Correlation[] = [];
  for (let i = 0; i < names.length; i++) {
    for (let j = i + 1; j < names.length; j++) {
      const scale = inputs[i]!.u * inputs[j]!.u;
      if (scale > 0) correlations.push({ between: [names[i]!, names[j]!], r: covariance(i, j) / scale });
    }
  }
  return { inputs, correlations };
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
