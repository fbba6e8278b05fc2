/**
 * Type A evaluation of repeated observations (JCGM 100:2008, 4.2 and 5.2.3): means, their standard uncertainties, and the
 * correlations between quantities observed together.
 */
import type { Correlation, Input } from './budget.ts';

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
