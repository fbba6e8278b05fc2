/**
 * The index of air and the wavelength in it that a report states, from −40 to 50 °C, against P. E. Ciddor, Appl. Opt. 35, 1566 (1996) put
 * together another way, and the water vapour in it against printed saturation pressures. Below 0 °C air is saturated over ice, not over water.
 */
import { describe, expect, it, test } from 'vitest';
import { ciddor, overIce, overWater } from '../independent/media.ts';
import { phasesOf, reportOf } from './support/command.ts';

interface Report {
  readonly light: { readonly airIndex: number; readonly wavelength_nm: number };
}

const VACUUM_NM = 633;

async function lightIn(temperature: number, pressure: number, humidity: number): Promise<Report['light']> {
  const air = { temperature, pressure, humidity };
  const { light } = await reportOf<Report>({ light: { vacuumWavelength: `${VACUUM_NM} nm`, air } });
  return light;
}

/** The enhancement that the paper gives, in its appendix A, for how much more vapour air holds than a vacuum, from memory. */
const vapourFraction = (celsius: number, pascal: number, humidity: number, saturation: number): number =>
  (humidity * saturation * (1.00062 + 3.14e-8 * pascal + 5.6e-7 * celsius ** 2)) / pascal;

describe('the formula that the tests compare with', () => {
  // Ciddor's tables 1 and 3: °C, kPa, relative humidity, (n − 1)·10⁸ at 633 nm with 450 µmol/mol CO₂.
  it.each([
    [20, 80, 0, 21458.0],
    [20, 100, 0, 26824.4],
    [10, 100, 0, 27774.7],
    [30, 100, 0, 25937.2],
    [20, 120, 0.75, 32127.8],
    [40, 120, 0.75, 29941.8],
    [50, 80, 1, 19058.4],
  ])('at %i °C, %i kPa, humidity %f prints %f', (celsius, kilopascal, humidity, printed) => {
    const pascal = kilopascal * 1000;
    const x = vapourFraction(celsius, pascal, humidity, overWater(celsius));
    // Magnus' formula is right to 0.1 % of the vapour's own 500e-8 at most.
    expect(Math.abs((ciddor(0.633, celsius, pascal, x) - 1) * 1e8 - printed)).toBeLessThan(0.6);
  });

  it('has vapour pressures as printed', () => {
    // Over ice at −10, −20, −30 °C and over water at 0, 20, 50 °C, hPa: Smithsonian Meteorological Tables, from memory.
    const printed = [
      [-10, 2.597],
      [-20, 1.032],
      [-30, 0.3798],
    ] as const;
    for (const [celsius, hectopascal] of printed)
      expect(Math.abs(overIce(celsius) / 100 / hectopascal - 1)).toBeLessThan(3e-3);
    for (const [celsius, hectopascal] of [
      [0, 6.1078],
      [20, 23.373],
      [50, 123.4],
    ] as const)
      expect(Math.abs(overWater(celsius) / 100 / hectopascal - 1)).toBeLessThan(3e-3);
  });
});

describe.each([
  [-40, 101_325],
  [-20, 80_000],
  [-10, 101_325],
  [-1, 100_000],
  [1, 100_000],
  [20, 90_000],
  [50, 120_000],
])('air at %i °C and %i Pa', (celsius, pascal) => {
  const saturation = celsius < 0 ? overIce(celsius) : overWater(celsius);
  const x = vapourFraction(celsius, pascal, 1, saturation);

  it('has the index of dry and of saturated air, and shortens the wavelength by it', async () => {
    for (const [humidity, fraction] of [
      [0, 0],
      [1, x],
    ] as const) {
      const { airIndex, wavelength_nm } = await lightIn(celsius, pascal, humidity);
      expect(Math.abs(airIndex - ciddor(VACUUM_NM / 1000, celsius, pascal, fraction))).toBeLessThan(1e-8);
      expect(Math.abs(wavelength_nm * airIndex - VACUUM_NM)).toBeLessThan(1e-9 * VACUUM_NM);
    }
  });

  it('loses by its vapour what ice or water give off there', async () => {
    const [dry, moist] = await Promise.all([lightIn(celsius, pascal, 0), lightIn(celsius, pascal, 1)]);
    const fallen = dry.airIndex - moist.airIndex;
    const expected = ciddor(0.633, celsius, pascal, 0) - ciddor(0.633, celsius, pascal, x);
    // Over water at −1, −10, −20 and −40 °C it would be 1 %, 10 %, 21 % and 47 % more. Ciddor's formula for ice is 1 % high at −40 °C.
    expect(Math.abs(fallen / expected - 1)).toBeLessThan(celsius < -30 ? 1.5e-2 : 5e-3);
  });
});

test('phases below 0 °C are counted in wavelengths in that air', async () => {
  const [temperature, pressure, humidity] = [-15, 75_000, 0.8];
  const words = {
    light: { vacuumWavelength: '633 nm', air: { temperature, pressure, humidity } },
    references: [{ id: 'r', kind: 'ball', diameter: 12.7, at: [90, 20, 130] }],
    patches: [
      { id: 'p', reference: 'r', focus: 'point', centre: [60, 0], outline: { circle: { diameter: 12 } } },
    ],
  };
  const [printed] = await phasesOf(words, 'p', [[55, -3]]);
  const x = vapourFraction(temperature, pressure, humidity, overIce(temperature));
  const path = (px: number, py: number): number =>
    -Math.hypot(90 - px, 20 - py, 130) - Math.hypot(px, py, 500);
  const waves = ((path(55, -3) - path(60, 0)) * ciddor(0.633, temperature, pressure, x)) / 633e-6;
  // Over water 15 % more vapour would be 8e-9 of these thousands of waves; a humidity left out 5e-8.
  expect(Math.abs(printed! - waves)).toBeLessThan(3e-9 * Math.abs(waves));
});
