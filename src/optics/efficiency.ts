/**
 * How much light a binary pattern sends where: order efficiencies (fractions of the light on the pattern), visibility of
 * fringes, and the reflection at a bare surface. Scalar theory: periods of several wavelengths.
 * J. W. Goodman, *Introduction to Fourier Optics*, sec. 4.4; Y.-C. Chang, P. Zhou, J. H. Burge, Appl. Opt. 45, 4223 (2006).
 */

/** Grooves of phase depth π give the first orders the most light. */
export const BEST_PHASE_DEPTH = Math.PI;

/**
 * Efficiency of an order of an amplitude grating (chrome): duty D is the clear width over the period. What leaks through the chrome, a
 * share `leak` of the light on it, comes with a phase that nobody states; this is the mean over it, |1 − √T·e^iφ|² → 1 + T.
 */
export function chromeEfficiency(order: number, duty: number, leak = 0): number {
  requireDuty(duty);
  if (order === 0) return duty * duty + (1 - duty) ** 2 * leak;
  return (1 + leak) * (Math.sin(Math.PI * order * duty) / (Math.PI * order)) ** 2;
}

/** Efficiency of an order of a phase grating (etched): duty D is the etched width over the period, depth in radians of phase. */
export function etchedEfficiency(order: number, duty: number, phaseDepth = BEST_PHASE_DEPTH): number {
  requireDuty(duty);
  const contrast = 1 - Math.cos(phaseDepth);
  if (order === 0) return 1 - 2 * duty * (1 - duty) * contrast;
  return 2 * contrast * (Math.sin(Math.PI * order * duty) / (Math.PI * order)) ** 2;
}

/** Visibility of the fringes of two beams, 2√(I₁I₂)/(I₁ + I₂); 0 where either is dark. */
export function fringeVisibility(one: number, other: number): number {
  if (!(one >= 0 && other >= 0))
    throw new RangeError(`intensities are ${one} and ${other}; expected none below 0`);
  return one + other > 0 ? (2 * Math.sqrt(one * other)) / (one + other) : 0;
}

/** Reflectance of a surface at normal incidence; `index` is the ratio of the two media's indices. */
export const normalReflectance = (index: number): number => ((index - 1) / (index + 1)) ** 2;

function requireDuty(duty: number): void {
  if (!(duty >= 0 && duty <= 1)) throw new RangeError(`a duty cycle is ${duty}; expected 0 to 1`);
}
