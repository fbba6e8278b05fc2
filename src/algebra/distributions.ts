/**
 * Student's t distribution: the probability within ±t, and the coverage factor for a probability; the χ² distribution's upper tail.
 * Through the regularised incomplete beta function: M. Abramowitz, I. A. Stegun, 26.5.8 (continued fraction) and 26.7.1.
 */

/** Probability that |T| ≤ t for `degreesOfFreedom` ν > 0, Infinity allowed (the normal distribution). */
export function probabilityWithin(t: number, degreesOfFreedom: number): number {
  const nu = degreesOfFreedom;
  if (!(nu > 0)) throw new RangeError(`degrees of freedom are ${nu}; expected a number above 0`);
  if (t === 0) return 0;
  if (nu === Number.POSITIVE_INFINITY) return errorFunction(Math.abs(t) / Math.SQRT2);
  return 1 - regularisedBeta(nu / (nu + t * t), nu / 2, 1 / 2);
}

/** The t for which |T| ≤ t has `probability`, 0 < probability < 1: k of JCGM 100, G.3. */
export function coverageFactor(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`a coverage probability is ${probability}; expected one between 0 and 1`);
  }
  let low = 0;
  let high = 1;
  while (probabilityWithin(high, degreesOfFreedom) < probability) high *= 2;
  // Halving to the last bit: slow but never wrong, and asked for once a budget.
  for (let step = 0; step < 200; step++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (probabilityWithin(middle, degreesOfFreedom) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** I_x(a, b). */
function regularisedBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - regularisedBeta(1 - x, b, a);
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  return (front / a) * betaFraction(x, a, b);
}

/** The continued fraction of I_x(a, b) by W. J. Lentz's method. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300; // stands in for a vanishing denominator
  const away = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    const change = d * c;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-15) return fraction;
  }
  throw new Error(`the incomplete beta function did not converge at x = ${x}, a = ${a}, b = ${b}`);
}

/** ln Γ(z), z > 0: Stirling's series after a shift beyond 15, good to rounding. */
export function logGamma(z: number): number {
  let shift = 0;
  let at = z;
  while (at < 15) {
    shift += Math.log(at);
    at += 1;
  }
  const inverse = 1 / (at * at);
  const series =
    (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse * (1 / 1188))))) / at;
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series - shift;
}

/** erf(x), x ≥ 0: Maclaurin's series below 2.5, the continued fraction of the complement above (A&S 7.1.6, 7.1.14). */
function errorFunction(x: number): number {
  if (x < 2.5) {
    let term = x;
    let sum = x;
    for (let n = 1; Math.abs(term) > 1e-17 * sum; n++) {
      term *= (2 * x * x) / (2 * n + 1);
      sum += term;
    }
    return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
  }
  let fraction = 0;
  for (let k = 200; k >= 1; k--) fraction = k / 2 / (x + fraction);
  return 1 - Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + fraction));
}

/**
 * Probability that χ² with `degreesOfFreedom` (a whole number from 1) is `value` or more: whether readings agree within their
 * uncertainties. By finite sums: M. Abramowitz, I. A. Stegun, 26.4.4 (odd) and 26.4.5 (even).
 */
export function chiSquaredTail(value: number, degreesOfFreedom: number): number {
  const nu = degreesOfFreedom;
  if (!(Number.isInteger(nu) && nu > 0))
    throw new RangeError(`degrees of freedom of χ² are ${nu}; expected a whole number from 1`);
  if (!(value > 0)) return 1;
  // Terms e^{-x/2} (x/2)^k / Γ(k + 1), k = 0, 1, … or 1/2, 3/2, …, each from its logarithm so that none overflows.
  const half = value / 2;
  const odd = nu % 2 === 1;
  let sum = odd ? normalTail(Math.sqrt(value)) : 0;
  let logTerm = odd ? Math.log(2 * Math.sqrt(half / Math.PI)) - half : -half;
  for (let k = odd ? 0.5 : 0; k <= nu / 2 - 1; k++) {
    sum += Math.exp(logTerm);
    logTerm += Math.log(half / (k + 1));
  }
  return Math.min(1, sum);
}

/** Probability that a normal deviate's magnitude exceeds z. */
const normalTail = (z: number): number => 1 - probabilityWithin(z, Number.POSITIVE_INFINITY);
