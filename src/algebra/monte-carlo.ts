/**
 * What a propagation of distributions by Monte Carlo gives, from its outputs (JCGM 101:2008).
 */
export interface Propagated {
  readonly trials: number;
  readonly mean: number;
  /** Standard deviation of the output. */
  readonly u: number;
  /** Standard error of `u` from the finite number of trials, by the fourth moment. */
  readonly samplingError: number;
  readonly coverage: number;
  /** With equal probability left out on either side (JCGM 101, 7.7.2, note). */
  readonly symmetric: readonly [low: number, high: number];
  /** The shortest interval of that coverage. */
  readonly shortest: readonly [low: number, high: number];
}

/** Mean, spread and coverage intervals of outputs, which are sorted in place. */
export function summarise(outputs: Float64Array, coverage: number): Propagated {
  const trials = outputs.length;
  if (!(coverage > 0 && coverage < 1)) throw new RangeError(`a coverage is ${coverage}; expected 0 to 1`);
  const within = Math.floor(coverage * trials + 0.5);
  if (trials < 2 || within < 1 || within >= trials) {
    throw new RangeError(`${trials} trials are too few for a coverage of ${coverage}`);
  }
  const mean = outputs.reduce((sum, y) => sum + y, 0) / trials;
  let second = 0;
  let fourth = 0;
  for (const y of outputs) {
    const square = (y - mean) * (y - mean);
    second += square;
    fourth += square * square;
  }
  const variance = second / (trials - 1);
  const u = Math.sqrt(variance);
  // The variance of a sample variance is (μ₄ − σ⁴)/n; half of it, relatively, goes to the standard deviation.
  const samplingError =
    u > 0 ? Math.sqrt(Math.max(0, fourth / trials - variance * variance) / trials) / (2 * u) : 0;

  outputs.sort();
  const left = trials - within;
  const lower = Math.floor(left / 2);
  let narrowest = 0;
  for (let from = 1; from < left; from++) {
    const width = outputs[from + within]! - outputs[from]!;
    if (width < outputs[narrowest + within]! - outputs[narrowest]!) narrowest = from;
  }
  return {
    trials,
    mean,
    u,
    samplingError,
    coverage,
    symmetric: [outputs[lower]!, outputs[Math.min(trials - 1, lower + within)]!],
    shortest: [outputs[narrowest]!, outputs[narrowest + within]!],
  };
}
