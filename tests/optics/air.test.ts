import { describe, expect, it } from 'vitest';
import { airIndex } from '../../src/optics/air.ts';
import { airIndex as birchDowns } from '../independent/air.ts';

const LASER = 633e-6;

describe('air', () => {
  // Ciddor (1996), tables 1 and 3: °C, kPa, relative humidity, (n − 1)·10⁸ at 633 nm, 450 µmol/mol CO₂.
  // The point 40 °C, 80 kPa, 0.75 is printed as 19996.5, a misprint: an independent program gives 19896.51.
  it.each([
    [20, 80, 0, 21458.0],
    [20, 100, 0, 26824.4],
    [20, 120, 0, 32191.6],
    [10, 100, 0, 27774.7],
    [30, 100, 0, 25937.2],
    [20, 80, 0.75, 21394.0],
    [20, 120, 0.75, 32127.8],
    [40, 80, 0.75, 19896.51],
    [40, 120, 0.75, 29941.8],
    [50, 80, 1, 19058.4],
    [50, 120, 1, 28792.4],
  ])(
    'at %f °C, %f kPa, humidity %f has the refractivity %f e-8',
    (temperature, kilopascal, humidity, published) => {
      const index = airIndex(LASER, { temperature, pressure: kilopascal * 1000, humidity });
      expect(Math.abs((index - 1) * 1e8 - published)).toBeLessThanOrEqual(0.1);
    },
  );

  it('agrees with Birch and Downs, who print 1.00027180 for dry air at 20 °C and 101 325 Pa', () => {
    // 27179.90 by an independent program; the two formulas agree within the few 1e-8 that either claims.
    expect((birchDowns(LASER, 20, 101325, 0) - 1) * 1e8).toBeCloseTo(27179.9, 1);
    for (const [temperature, pressure] of [
      [15, 95e3],
      [20, 101325],
      [25, 103e3],
    ] as const) {
      const ciddor = airIndex(LASER, { temperature, pressure, humidity: 0 });
      expect(Math.abs(ciddor - birchDowns(LASER, temperature, pressure, 0))).toBeLessThan(2e-8);
    }
    const moist = airIndex(LASER, { temperature: 20, pressure: 101325, humidity: 0.5 });
    expect(Math.abs(moist - birchDowns(LASER, 20, 101325, 0.5 * 2339))).toBeLessThan(3e-8);
  });

  it('shortens a helium–neon laser line to 632.819070 nm', () => {
    // Vacuum 632.9908 nm (CIPM 2007), 20 °C, 101 325 Pa, 50 % humidity; recomputed by an independent program.
    const wavelength =
      632.9908e-6 / airIndex(632.9908e-6, { temperature: 20, pressure: 101325, humidity: 0.5 });
    expect(wavelength * 1e6).toBeCloseTo(632.81907, 6);
  });

  it('grows by 0.534e-6 of its refractivity for each µmol/mol of carbon dioxide, by the dispersion', () => {
    const air = { temperature: 15, pressure: 101325, humidity: 0 };
    const ratio = (airIndex(LASER, air, 650) - 1) / (airIndex(LASER, air, 450) - 1);
    expect(ratio - 1).toBeCloseTo(200 * 0.534e-6, 8);
  });

  it.each([
    [{ temperature: 293, pressure: 101325, humidity: 0 }, 'temperature'],
    [{ temperature: 20, pressure: 1013.25, humidity: 0 }, 'pressure'],
    [{ temperature: 20, pressure: 101325, humidity: 50 }, 'humidity'],
    [{ temperature: Number.NaN, pressure: 101325, humidity: 0 }, 'temperature'],
  ])('refuses %o and names the %s', (air, what) => {
    expect(() => airIndex(LASER, air)).toThrow(RangeError);
    expect(() => airIndex(LASER, air)).toThrow(what);
  });
});
