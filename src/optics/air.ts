/**
 * Refractive index of moist air, and wavelengths in it.
 * P. E. Ciddor, "Refractive index of air: new equations for the visible and near infrared", Appl. Opt. 35, 1566 (1996).
 * Wavelengths in mm in vacuum, temperature in °C (ITS-90), pressure in Pa, relative humidity 0 to 1, CO₂ in µmol/mol.
 * Standard uncertainty of the formula about 2e-8 to 5e-8.
 */

export interface AirConditions {
  /** °C */
  readonly temperature: number;
  /** Pa */
  readonly pressure: number;
  /** Relative, 0 to 1. */
  readonly humidity: number;
}

/** CO₂ of ordinary laboratory air in Ciddor's tables, µmol/mol. */
export const LABORATORY_CO2 = 450;

/** What the formula holds for: mm, °C, Pa, a fraction. */
export const AIR_RANGES = {
  vacuumWavelength: [300e-6, 1700e-6],
  temperature: [-40, 100],
  pressure: [10e3, 140e3],
  humidity: [0, 1],
} as const;

/** Index of air, about 1.00027. `vacuumWavelength` in mm. Throws a RangeError outside of AIR_RANGES. */
export function airIndex(vacuumWavelength: number, air: AirConditions, co2 = LABORATORY_CO2): number {
  requireWithin('vacuum wavelength', vacuumWavelength, ...AIR_RANGES.vacuumWavelength, 'mm');
  requireWithin('air temperature', air.temperature, ...AIR_RANGES.temperature, '°C');
  requireWithin('air pressure', air.pressure, ...AIR_RANGES.pressure, 'Pa');
  requireWithin('relative humidity', air.humidity, ...AIR_RANGES.humidity, '(a fraction)');
  requireWithin('carbon dioxide', co2, 0, 2000, 'µmol/mol');

  const waveNumberSquared = 1 / (vacuumWavelength * 1000) ** 2; // µm⁻²
  const standardDry = dryRefractivity(waveNumberSquared) * (1 + 0.534e-6 * (co2 - 450));
  const standardVapour = vapourRefractivity(waveNumberSquared);

  const { temperature, pressure, humidity } = air;
  const vapourFraction =
    (enhancement(temperature, pressure) * humidity * saturationPressure(temperature)) / pressure;
  const dryMolarMass = 1e-3 * (28.9635 + 12.011e-6 * (co2 - 400)); // kg/mol

  // Densities relative to those at which the standard refractivities hold; the gas constant cancels.
  const here = molesPerVolume(temperature, pressure, vapourFraction);
  const dryDensity =
    (here * dryMolarMass * (1 - vapourFraction)) / (molesPerVolume(15, 101325, 0) * dryMolarMass);
  const vapourDensity = (here * vapourFraction) / molesPerVolume(20, 1333, 1);

  return 1 + dryDensity * standardDry + vapourDensity * standardVapour;
}

/** n − 1 of dry air with 450 µmol/mol CO₂ at 15 °C and 101 325 Pa; Ciddor, eq. (1). */
function dryRefractivity(waveNumberSquared: number): number {
  return 1e-8 * (5792105 / (238.0185 - waveNumberSquared) + 167917 / (57.362 - waveNumberSquared));
}

/** n − 1 of pure water vapour at 20 °C and 1333 Pa; Ciddor, eq. (3). */
function vapourRefractivity(waveNumberSquared: number): number {
  const s = waveNumberSquared;
  return 1e-8 * 1.022 * (295.235 + s * (2.6422 + s * (-0.03238 + s * 0.004028)));
}

/** Saturation pressure of water vapour, Pa: over water, and below 0 °C over ice; Ciddor, appendix A. */
function saturationPressure(temperature: number): number {
  const kelvin = temperature + 273.15;
  if (temperature < 0) return Math.exp(Math.LN10 * (-2663.5 / kelvin + 12.537));
  return Math.exp(
    1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin,
  );
}

/** How much more vapour air holds than a vacuum at the same temperature; Ciddor, appendix A. */
const enhancement = (temperature: number, pressure: number): number =>
  1.00062 + 3.14e-8 * pressure + 5.6e-7 * temperature * temperature;

/** p/(ZT), the molar density but for the gas constant; compressibility Z by Ciddor, appendix A (BIPM 1981/91). */
function molesPerVolume(temperature: number, pressure: number, vapourFraction: number): number {
  const kelvin = temperature + 273.15;
  const t = temperature;
  const x = vapourFraction;
  const ratio = pressure / kelvin;
  const first =
    1.58123e-6 -
    2.9331e-8 * t +
    1.1043e-10 * t * t +
    (5.707e-6 - 2.051e-8 * t) * x +
    (1.9898e-4 - 2.376e-6 * t) * x * x;
  const compressibility = 1 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * x * x);
  return ratio / compressibility;
}

function requireWithin(what: string, value: number, least: number, most: number, unit: string): void {
  if (!(value >= least && value <= most)) {
    throw new RangeError(
      `${what} is ${value} ${unit}; the formula for the index of air is valid from ${least} to ${most}`,
    );
  }
}
