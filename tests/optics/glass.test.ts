import { describe, expect, it } from 'vitest';
import { GLASSES, glassIndex } from '../../src/optics/glass.ts';

/** The helium d line in air, mm. */
const D_LINE = 587.5618e-6;

describe('glass', () => {
  it.each(GLASSES.map((glass) => [glass.name, glass.catalogueIndex] as const))(
    '%s has its catalogue index at the d line to five decimals',
    (name, catalogue) => {
      expect(Math.abs(glassIndex(name, D_LINE) - catalogue)).toBeLessThanOrEqual(1e-5);
    },
  );

  // Fused silica: Malitson (1965), recomputed by an independent program. N-BK7: SCHOTT (2017), likewise.
  it.each([
    ['fused silica', 0.4861327, 1.4631265],
    ['fused silica', 0.546074, 1.4600781],
    ['fused silica', 0.5875618, 1.4584637],
    ['fused silica', 0.6328, 1.4570179],
    ['fused silica', 1.01398, 1.4502421],
    ['fused silica', 1.064, 1.449631],
    ['fused silica', 1.55, 1.4440236],
    ['N-BK7', 0.5875618, 1.5168],
    ['N-BK7', 0.6328, 1.5150892],
    ['N-BK7', 1.064, 1.5066348],
  ])('%s at %f µm is %f', (name, micrometres, index) => {
    expect(glassIndex(name, micrometres / 1000)).toBeCloseTo(index, 7);
  });

  // Abbe numbers V_d = (n_d − 1)/(n_F − n_C). N-BK7: SCHOTT (2017), found quoted. The others from memory.
  it.each([
    ['N-BK7', 64.17, 0.005],
    ['N-SF11', 25.68, 0.005],
    ['N-F2', 36.43, 0.005],
    ['fused silica', 67.82, 0.01],
    ['calcium fluoride', 95.0, 0.15],
  ])('%s disperses with an Abbe number of %f', (name, abbe, tolerance) => {
    const dispersion = glassIndex(name, 486.1327e-6) - glassIndex(name, 656.2725e-6);
    expect(Math.abs((glassIndex(name, D_LINE) - 1) / dispersion - abbe)).toBeLessThanOrEqual(tolerance);
  });

  // Measured lines of Malitson (1962), from memory; the formula was fitted to them.
  it.each([
    [0.435834, 1.7812],
    [0.546071, 1.77078],
    [0.643847, 1.76547],
    [0.706519, 1.76303],
  ])('sapphire (ordinary) at %f µm is %f', (micrometres, index) => {
    expect(Math.abs(glassIndex('sapphire (ordinary)', micrometres / 1000) - index)).toBeLessThanOrEqual(1e-5);
  });

  it('names the known glasses when asked for another', () => {
    expect(() => glassIndex('N-BK8', 632.8e-6)).toThrow(/N-BK8.*fused silica, N-BK7/);
  });

  it.each([632.8, 0.1e-3, Number.NaN, -632.8e-6])('refuses a wavelength of %f mm', (wavelength) => {
    expect(() => glassIndex('fused silica', wavelength)).toThrow(/holds from 0.00021 mm to 0.00371 mm/);
  });
});
