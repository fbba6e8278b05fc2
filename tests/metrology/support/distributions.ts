/** Distributions of JCGM 101:2008 drawn from, and propagated through a model: seeded, so that the same seed gives the same figures. */
import { type Propagated, spreadOf } from '../../../src/algebra/monte-carlo.ts';
import { type Random, randomFrom } from '../../../src/algebra/random.ts';

export type Distribution =
  | { readonly kind: 'normal'; readonly mean: number; readonly sigma: number }
  | { readonly kind: 'rectangular'; readonly mean: number; readonly halfWidth: number }
  | { readonly kind: 'triangular'; readonly mean: number; readonly halfWidth: number }
  | { readonly kind: 'arcsine'; readonly mean: number; readonly halfWidth: number }
  | {
      /** Student's t, shifted by the mean and scaled by `scale` (the s/√n of JCGM 101, 6.4.9.2). */
      readonly kind: 'student';
      readonly mean: number;
      readonly scale: number;
      readonly degreesOfFreedom: number;
    };

interface MonteCarloOptions {
  readonly trials: number;
  readonly seed: string;
  /** Default 0.95. */
  readonly coverage?: number;
}

interface Distributed extends Propagated {
  readonly mean: number;
  /** With equal probability left out on either side (JCGM 101, 7.7.2, note). */
  readonly symmetric: readonly [low: number, high: number];
  /** The shortest interval of that coverage. */
  readonly shortest: readonly [low: number, high: number];
}

/** Mean, spread and coverage intervals of outputs, which are sorted in place. */
function summarise(outputs: Float64Array, coverage: number): Distributed {
  const trials = outputs.length;
  if (!(coverage > 0 && coverage < 1)) throw new RangeError(`a coverage is ${coverage}; expected 0 to 1`);
  const within = Math.floor(coverage * trials + 0.5);
  if (trials < 2 || within < 1 || within >= trials) {
    throw new RangeError(`${trials} trials are too few for a coverage of ${coverage}`);
  }
  const mean = outputs.reduce((sum, y) => sum + y, 0) / trials;
  const spread = spreadOf(outputs);
  outputs.sort();
  const left = trials - within;
  const lower = Math.floor(left / 2);
  let narrowest = 0;
  for (let from = 1; from < left; from++) {
    const width = outputs[from + within]! - outputs[from]!;
    if (width < outputs[narrowest + within]! - outputs[narrowest]!) narrowest = from;
  }
  return {
    ...spread,
    mean,
    symmetric: [outputs[lower]!, outputs[Math.min(trials - 1, lower + within)]!],
    shortest: [outputs[narrowest]!, outputs[narrowest + within]!],
  };
}

/** Distribution of model(draws of the inputs, in their order); the model's array is reused between trials. */
export function propagateDistributions(
  model: (values: Float64Array) => number,
  inputs: readonly Distribution[],
  options: MonteCarloOptions,
): Distributed {
  const random = randomFrom(options.seed);
  const values = new Float64Array(inputs.length);
  const outputs = new Float64Array(options.trials);
  for (let trial = 0; trial < options.trials; trial++) {
    for (let k = 0; k < inputs.length; k++) values[k] = draw(inputs[k]!, random);
    outputs[trial] = model(values);
  }
  return summarise(outputs, options.coverage ?? 0.95);
}

/** One draw from a distribution. */
export function draw(distribution: Distribution, random: Random): number {
  switch (distribution.kind) {
    case 'normal':
      return distribution.mean + distribution.sigma * random.normal();
    case 'rectangular':
      return distribution.mean + distribution.halfWidth * (2 * random.uniform() - 1);
    case 'triangular':
      return distribution.mean + distribution.halfWidth * (random.uniform() + random.uniform() - 1);
    case 'arcsine':
      return distribution.mean + distribution.halfWidth * Math.sin(2 * Math.PI * random.uniform());
    case 'student':
      return distribution.mean + distribution.scale * studentDeviate(distribution.degreesOfFreedom, random);
  }
}

/** Standard deviation of a distribution; Infinity for Student's t of two degrees of freedom or fewer. */
export function standardDeviationOf(distribution: Distribution): number {
  switch (distribution.kind) {
    case 'normal':
      return distribution.sigma;
    case 'rectangular':
      return distribution.halfWidth / Math.sqrt(3);
    case 'triangular':
      return distribution.halfWidth / Math.sqrt(6);
    case 'arcsine':
      return distribution.halfWidth / Math.SQRT2;
    case 'student': {
      const nu = distribution.degreesOfFreedom;
      return nu > 2 ? distribution.scale * Math.sqrt(nu / (nu - 2)) : Number.POSITIVE_INFINITY;
    }
  }
}

/** R. W. Bailey, "Polar generation of random variates with the t-distribution", Math. Comp. 62, 779 (1994). */
function studentDeviate(degreesOfFreedom: number, random: Random): number {
  for (;;) {
    const x = 2 * random.uniform() - 1;
    const y = 2 * random.uniform() - 1;
    const square = x * x + y * y;
    if (square < 1 && square > 0) {
      return x * Math.sqrt((degreesOfFreedom * (square ** (-2 / degreesOfFreedom) - 1)) / square);
    }
  }
}
