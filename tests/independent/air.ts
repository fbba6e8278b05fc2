/**
 * K. P. Birch and M. J. Downs, "Correction to the updated Edlén equation", Metrologia 31, 315 (1994): the index of air by a second formula,
 * from other measurements than Ciddor's. Constants found quoted in public sources. °C, Pa; wavelength in vacuum, mm.
 */
export function airIndex(
  vacuumWavelength: number,
  temperature: number,
  pressure: number,
  vapourPressure: number,
): number {
  const s = 1 / (vacuumWavelength * 1000) ** 2;
  const standard = 1e-8 * (8342.54 + 2406147 / (130 - s) + 15998 / (38.9 - s));
  const dry =
    (pressure * standard * (1 + 1e-8 * (0.601 - 0.00972 * temperature) * pressure)) /
    (96095.43 * (1 + 0.003661 * temperature));
  return 1 + dry - vapourPressure * (3.7345 - 0.0401 * s) * 1e-10;
}

/** Of saturated vapour over water, Pa: Magnus's formula with the constants of D. Sonntag (1990), from memory; right to some tenths of a per cent. */
export const vapourPressure = (celsius: number): number =>
  611.2 * Math.exp((17.62 * celsius) / (243.12 + celsius));
