/** Efficiencies of a process: by the mean of the transmitted wave over one period, summed point by point. */
import { expect, it } from 'vitest';
import { efficiencyOf } from '../../src/design/grooves.ts';
import { designFrom } from '../metrology/support/design-from.ts';

const STEPS = 20_000;

/** |mean of t(x) exp(−2πi m x)|² over a period, t the transmittance where written and elsewhere, by the midpoint rule. */
function summed(
  order: number,
  duty: number,
  written: readonly [number, number],
  other: readonly [number, number],
): number {
  let [real, imaginary] = [0, 0];
  for (let k = 0; k < STEPS; k++) {
    const x = (k + 0.5) / STEPS;
    const [amplitude, phase] = x < duty ? written : other;
    real += (amplitude * Math.cos(phase - 2 * Math.PI * order * x)) / STEPS;
    imaginary += (amplitude * Math.sin(phase - 2 * Math.PI * order * x)) / STEPS;
  }
  return real * real + imaginary * imaginary;
}

it.each([
  [
    'etched by half a wave where no depth is stated',
    { kind: 'etched', dutyCycle: 0.3 },
    [1, Math.PI],
    [1, 0],
  ],
  // Fused silica at 632.8 nm, n 1.4570179 (Malitson 1965): 500 nm delay by 2π · 0.4570179 · 500/632.8.
  [
    'etched by 500 nm',
    { kind: 'etched', dutyCycle: 0.3, etchDepth: '500 nm' },
    [1, (2 * Math.PI * 0.4570179 * 500) / 632.8],
    [1, 0],
  ],
  ['chrome, written is clear', { kind: 'chrome', dutyCycle: 0.3 }, [1, 0], [0, 0]],
  [
    'chrome, written is opaque',
    { kind: 'chrome', dutyCycle: 0.3, tone: 'written is opaque' },
    [0, 0],
    [1, 0],
  ],
] as const)('%s', (_, process, written, other) => {
  const design = designFrom({
    process,
    substrate: { outline: { circle: { diameter: 150 } }, thickness: 6, glass: 'fused silica' },
  });
  for (const order of [-2, 0, 1, 3])
    expect(efficiencyOf(design, order)).toBeCloseTo(summed(order, 0.3, written, other), 5);
});

it.each([
  ['written is clear', 0.3],
  ['written is opaque', 0.7],
] as const)(
  'chrome of density 1, %s, leaks a tenth: the mean over the phase that nobody knows',
  (tone, clear) => {
    const design = designFrom({
      process: { kind: 'chrome', dutyCycle: 0.3, tone, opticalDensity: 1 },
      substrate: { outline: { circle: { diameter: 150 } }, thickness: 6, glass: 'fused silica' },
    });
    const phases = Array.from({ length: 12 }, (_, k) => (2 * Math.PI * k) / 12);
    for (const order of [-2, 0, 1, 3]) {
      const each = phases.map((phase) => summed(order, clear, [1, 0], [Math.sqrt(0.1), phase]));
      const mean = each.reduce((sum, one) => sum + one, 0) / each.length;
      expect(efficiencyOf(design, order)).toBeCloseTo(mean, 5);
    }
  },
);

it('an etch 10 % too shallow costs the first order 1 − sin²(0.9 π/2), 2.4 % of its light', () => {
  const at = (etchDepth: string): number =>
    efficiencyOf(
      designFrom({
        process: { kind: 'etched', etchDepth },
        substrate: { outline: { circle: { diameter: 150 } }, thickness: 6, glass: 'fused silica' },
      }),
      1,
    );
  // 692.34 nm is half a wave (Malitson 1965, n 1.4570179 at 632.8 nm); depths to 0.01 nm.
  expect(at('623.11 nm') / at('692.34 nm')).toBeCloseTo(Math.sin((0.9 * Math.PI) / 2) ** 2, 4);
});
