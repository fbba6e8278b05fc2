/** The spread of what comes out of a propagation of distributions by Monte Carlo (JCGM 101:2008). */
export interface Propagated {
  readonly trials: number;
  /** Standard deviation of the output. */
  readonly u: number;
  /** Standard error of `u` from the finite number of trials, by the fourth moment. */
  readonly samplingError: number;
}

/** Throws a RangeError for fewer than two outputs. */
export function spreadOf(outputs: Float64Array): Propagated {
  const trials = outputs.length;
  if (trials < 2) throw new RangeError(`${trials} trials are too few for a spread`);
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
  return { trials, u, samplingError };
}
