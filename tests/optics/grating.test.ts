import { describe, expect, it } from 'vitest';
import { diffractedRay, diffractionAngle, littrowAngle, littrowPeriod } from '../independent/grating.ts';

const DEGREE = Math.PI / 180;
const HELIUM_NEON = 632.8e-6;

describe('grating in its plane', () => {
  // 531 001 lines/m: inputs found in a public source, recomputed. 6000/cm: Serway & Jewett, from memory, recomputed.
  it.each([
    [1000 / 531001, HELIUM_NEON, 1, 19.6344],
    [1000 / 531001, HELIUM_NEON, 2, 42.2243],
    [1 / 600, HELIUM_NEON, 1, 22.3139],
    [1 / 600, HELIUM_NEON, 2, 49.4078],
  ])('of period %f mm sends %f mm in order %d to %f°', (period, wavelength, order, degrees) => {
    expect(diffractionAngle(0, period, order, wavelength)! / DEGREE).toBeCloseTo(degrees, 4);
  });

  it('has no order whose sine would pass 1', () => {
    expect(diffractionAngle(0, 1 / 600, 3, HELIUM_NEON)).toBeUndefined();
    // 2400/mm, 30°, 700 nm: sin β = 1.18 (a maker's grating guide, found quoted).
    expect(diffractionAngle(30 * DEGREE, 1 / 2400, 1, 700e-6)).toBeUndefined();
    expect(700e-6 * 2400 - Math.sin(30 * DEGREE)).toBeCloseTo(1.18, 12);
  });

  it('returns light on itself at the Littrow angle', () => {
    // Recomputed: 1200/mm at 30° → 833.333 nm; 1200/mm at 632.8 nm → 22.3139°.
    expect(littrowAngle(1 / 1200, 1, 833.333333333e-6)! / DEGREE).toBeCloseTo(30, 8);
    expect(littrowAngle(1 / 1200, 1, HELIUM_NEON)! / DEGREE).toBeCloseTo(22.3139, 4);
    expect(littrowPeriod(30 * DEGREE, 1, 833.333333333e-6)).toBeCloseTo(1 / 1200, 12);
    const angle = littrowAngle(1 / 1200, 1, HELIUM_NEON)!;
    expect(diffractionAngle(angle, 1 / 1200, 1, HELIUM_NEON)).toBeCloseTo(angle, 14);
    expect(littrowAngle(1 / 4000, 1, HELIUM_NEON)).toBeUndefined();
  });
});

describe('grating in space', () => {
  it('is the in-plane equation where the ray lies across the grooves', () => {
    const incidence = 17 * DEGREE;
    const ray = diffractedRay([Math.sin(incidence), 0, Math.cos(incidence)], [-300, 0], 1, HELIUM_NEON)!;
    expect(Math.asin(-ray[0])).toBeCloseTo(diffractionAngle(incidence, 1 / 300, 1, HELIUM_NEON)!, 14);
  });

  it('keeps the cosine along the grooves, a unit length, and the way the light goes', () => {
    const direction = [0.2, -0.3, -Math.sqrt(1 - 0.04 - 0.09)] as const;
    const ray = diffractedRay(direction, [150, 0], -2, HELIUM_NEON)!;
    expect(ray[1]).toBe(-0.3);
    expect(ray[0]).toBeCloseTo(0.2 - 300 * HELIUM_NEON, 15);
    expect(Math.hypot(...ray)).toBeCloseTo(1, 15);
    expect(ray[2]).toBeLessThan(0);
  });

  it('refracts by Snell’s law without grooves', () => {
    const ray = diffractedRay([Math.sin(0.4), 0, Math.cos(0.4)], [0, 0], 1, HELIUM_NEON, 1, 1.457)!;
    expect(1.457 * Math.sin(Math.asin(ray[0]))).toBeCloseTo(Math.sin(0.4), 15);
    expect(diffractedRay([0.8, 0, 0.6], [0, 0], 1, HELIUM_NEON, 1.457, 1)).toBeUndefined();
  });

  it('is evanescent beyond the circle of direction cosines', () => {
    expect(diffractedRay([0, 0, 1], [1000, 1000], 1, HELIUM_NEON)).toBeDefined();
    expect(diffractedRay([0, 0, 1], [1200, 1200], 1, HELIUM_NEON)).toBeUndefined();
    expect(diffractedRay([0, 0, 1], [Number.NaN, 0], 1, HELIUM_NEON)).toBeUndefined();
  });
});
