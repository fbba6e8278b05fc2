/**
 * The written areas of a process: the depth of an etched pattern (mm) and what order gets how much light. Crossing glass of index n
 * (against air) instead of air over a depth d delays light at normal incidence by (n − 1)d, a phase of 2π(n − 1)d/λ; half a wave, π, sends
 * the most light to the first orders (Goodman, *Introduction to Fourier Optics*, sec. 4.4). Chrome of an optical density lets a share of 10^−density
 * of the light through.
 */
import { BEST_PHASE_DEPTH, chromeEfficiency, etchedEfficiency } from '../optics/efficiency.ts';
import { raised } from '../quantity/power.ts';
import type { Design } from './design.ts';

/** As stated, otherwise λ/(2(n − 1)); undefined for chrome, or where no index of the glass is known. */
export function etchDepth({ scenario: { process }, glass, light }: Design): number | undefined {
  if (process.kind === 'chrome') return undefined;
  return process.etchDepth ?? (glass.index > 1 ? light.wavelength / (2 * (glass.index - 1)) : undefined);
}

/** Efficiency of an order, a fraction of the light on the pattern. */
export function efficiencyOf(design: Design, order: number): number {
  const { kind, tone, dutyCycle, opticalDensity } = design.scenario.process;
  if (kind === 'etched') return etchedEfficiency(order, dutyCycle, phaseDepth(design));
  // An amplitude grating goes by its clear width.
  const clear = tone === 'written is opaque' ? 1 - dutyCycle : dutyCycle;
  return chromeEfficiency(order, clear, opticalDensity === undefined ? 0 : leakOf(opticalDensity));
}

/** Share of the light that an optical density lets through. */
const leakOf = (opticalDensity: number): number => raised(10, -opticalDensity);

/** Radians; half a wave where no index of the glass is known. */
function phaseDepth(design: Design): number {
  const { glass, light, scenario } = design;
  const stated = scenario.process.etchDepth;
  if (stated === undefined || !(glass.index > 1)) return BEST_PHASE_DEPTH;
  return (2 * Math.PI * (glass.index - 1) * stated) / light.wavelength;
}
