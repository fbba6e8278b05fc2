/** Classes at the limits that IEC 60825-1:2014 draws, from memory, just below and just above each. */
import { expect, test } from 'vitest';
import { type LaserClass, laserClass } from '../../src/optics/laser-class.ts';

const CASES: readonly (readonly [
  nanometres: number,
  milliwatts: number,
  below: LaserClass,
  above: LaserClass,
])[] = [
  [632.8, 0.39, '1', '2'],
  [632.8, 1, '2', '3R'],
  [632.8, 5, '3R', '3B'],
  [632.8, 500, '3B', '4'],
  // The blue-light hazard: ten times less at 450 nm, met again at 500 nm.
  [405, 0.039, '1', '2'],
  [500, 0.39, '1', '2'],
  // Invisible: no class 2. C4 = 10^(0.002 · 150) = 2 at 850 nm, 5 at 1064 nm.
  [850, 0.39 * 10 ** 0.3, '1', '3R'],
  [1064, 1.95, '1', '3R'],
  [1064, 9.75, '3R', '3B'],
  [1310, 15.6, '1', '3R'],
  [1550, 10, '1', '3R'],
  [10_600, 500, '3B', '4'],
];

test.each(CASES)('%s nm, %s mW', (nanometres, milliwatts, below, above) => {
  const [wavelength, power] = [nanometres * 1e-6, milliwatts * 1e-3];
  expect(laserClass(power * 0.999, wavelength)).toBe(below);
  expect(laserClass(power * 1.001, wavelength)).toBe(above);
});

test('no class where no limit is known, and none of no power', () => {
  expect(laserClass(1e-3, 355e-6)).toBeUndefined();
  for (const power of [0, -1, Number.NaN]) expect(() => laserClass(power, 632.8e-6)).toThrow(RangeError);
});
