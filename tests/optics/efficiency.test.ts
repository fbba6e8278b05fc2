import { describe, expect, it } from 'vitest';
import {
  chromeEfficiency,
  etchedEfficiency,
  fringeVisibility,
  normalReflectance,
} from '../../src/optics/efficiency.ts';

describe('order efficiency', () => {
  // Goodman; Chang, Zhou & Burge (2006): formulas from memory, figures recomputed by an independent program.
  it.each([
    ['chrome', 0.5, [0.25, 0.101321, 0, 0.011258]],
    ['etched', 0.5, [0, 0.405285, 0, 0.045032]],
    ['chrome', 0.3, [0.09, 0.066316, 0.022911]],
    ['etched', 0.3, [0.16, 0.265262, 0.091646]],
  ] as const)('of %s with duty %f is %j', (kind, duty, efficiencies) => {
    efficiencies.forEach((efficiency, order) => {
      const own = kind === 'chrome' ? chromeEfficiency : etchedEfficiency;
      expect(own(order, duty)).toBeCloseTo(efficiency, 6);
      expect(own(-order, duty)).toBeCloseTo(efficiency, 6);
    });
  });

  it.each([0.1, 0.37, 0.5, 0.8])('accounts for all the light that a duty of %f lets through', (duty) => {
    let chrome = chromeEfficiency(0, duty);
    let etched = etchedEfficiency(0, duty, 2.1);
    for (let order = 1; order <= 200_000; order++) {
      chrome += 2 * chromeEfficiency(order, duty);
      etched += 2 * etchedEfficiency(order, duty, 2.1);
    }
    // The orders left out carry at most about 4/(π² · 200 000) of it.
    expect(Math.abs(chrome - duty)).toBeLessThan(3e-6);
    expect(Math.abs(etched - 1)).toBeLessThan(3e-6);
  });

  it('is that of the transform of the grooves themselves', () => {
    // The second way: the mean of exp(iφ(x)) exp(−2πi m x) over one period, by the midpoint rule.
    const [duty, depth, steps] = [0.3, 2, 100_000];
    for (const order of [0, 1, 2, 5]) {
      let real = 0;
      let imaginary = 0;
      for (let step = 0; step < steps; step++) {
        const x = (step + 0.5) / steps;
        const phase = (x < duty ? depth : 0) - 2 * Math.PI * order * x;
        real += Math.cos(phase) / steps;
        imaginary += Math.sin(phase) / steps;
      }
      expect(real * real + imaginary * imaginary).toBeCloseTo(etchedEfficiency(order, duty, depth), 8);
    }
  });

  it('refuses a duty cycle that is no fraction', () => {
    expect(() => chromeEfficiency(1, 50)).toThrow(/50; expected 0 to 1/);
    expect(() => etchedEfficiency(1, Number.NaN)).toThrow(RangeError);
  });
});

describe('light on the camera', () => {
  it.each([
    [1, 1],
    [0.1, 0.57496],
    [0.04, 0.384615],
    [0.01, 0.19802],
  ])('at an intensity ratio of %f has the visibility %f', (ratio, visibility) => {
    expect(fringeVisibility(1, ratio)).toBeCloseTo(visibility, 6);
    expect(fringeVisibility(7 * ratio, 7)).toBeCloseTo(visibility, 6);
  });

  it('has no fringes without light, and no negative light', () => {
    expect(fringeVisibility(0, 0)).toBe(0);
    expect(() => fringeVisibility(-1, 1)).toThrow(/-1 and 1/);
  });

  it.each([
    [1.5, 0.04],
    [1.457018, 0.0345979],
    [1.515089, 0.0419428],
  ])('is reflected by a surface of index %f in the fraction %f', (index, reflectance) => {
    expect(normalReflectance(index)).toBeCloseTo(reflectance, 7);
    expect(normalReflectance(1 / index)).toBeCloseTo(reflectance, 7);
  });
});
