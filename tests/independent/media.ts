/**
 * Glass and air by other hands than src/optics: fused silica by Malitson's formula, moist air by Ciddor's in densities of kg/m³.
 * Micrometres, °C, Pa; humidity 0 to 1. Shares no code with src/.
 */

/**
 * Index of fused silica against air; λ in air, µm. I. H. Malitson, J. Opt. Soc. Am. 55, 1205 (1965), the constants as printed:
 * n² − 1 = Σ B λ²/(λ² − C²).
 */
export function malitson(micrometres: number): number {
  const terms = [
    [0.6961663, 0.0684043],
    [0.4079426, 0.1162414],
    [0.8974794, 9.896161],
  ] as const;
  return Math.sqrt(1 + terms.reduce((sum, [b, c]) => sum + b / (1 - (c / micrometres) ** 2), 0));
}

/** Molar gas constant as the paper has it, J/(mol K). */
const GAS = 8.31451;
/** Molar masses, kg/mol: of dry air with 450 µmol/mol of carbon dioxide, and of water. */
const DRY = 1e-3 * (28.9635 + 12.011e-6 * 50);
const WATER = 0.018015;

/**
 * Index of air with 450 µmol/mol CO₂ by the mole fraction of water vapour in it; λ in vacuum, µm. P. E. Ciddor, Appl. Opt. 35, 1566
 * (1996), eqs. (1) to (5) and appendix B, from memory: refractivities add by the densities of the two components.
 */
export function ciddor(micrometres: number, celsius: number, pascal: number, vapourFraction: number): number {
  const s = micrometres ** -2;
  const dryAt15 = (5792105 / (238.0185 - s) + 167917 / (57.362 - s)) * 1e-8;
  const vapourAt20 = 1.022e-8 * (295.235 + 2.6422 * s - 0.03238 * s ** 2 + 0.004028 * s ** 3);
  const x = vapourFraction;
  const dry = massDensity(celsius, pascal, x, 'dry') / massDensity(15, 101325, 0, 'dry');
  const vapour = massDensity(celsius, pascal, x, 'vapour') / massDensity(20, 1333, 1, 'vapour');
  return 1 + dry * dryAt15 + vapour * vapourAt20;
}

/** Of one component of moist air, kg/m³. */
function massDensity(celsius: number, pascal: number, x: number, of: 'dry' | 'vapour'): number {
  const kelvin = celsius + 273.15;
  const [a, b, c] = [
    1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius ** 2,
    (5.707e-6 - 2.051e-8 * celsius) * x,
    (1.9898e-4 - 2.376e-6 * celsius) * x ** 2,
  ];
  const z = 1 - (pascal / kelvin) * (a + b + c) + (pascal / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * x ** 2);
  const moles = pascal / (z * GAS * kelvin);
  return of === 'dry' ? moles * (1 - x) * DRY : moles * x * WATER;
}

/** Saturation pressure over water by Magnus' formula, Pa: D. Sonntag, Z. Meteorol. 70, 340 (1990), from memory; 0.1 % from −45 to 60 °C. */
export const overWater = (celsius: number): number =>
  611.2 * Math.exp((17.62 * celsius) / (243.12 + celsius));

/** The same over ice, −65 to 0 °C. */
export const overIce = (celsius: number): number => 611.2 * Math.exp((22.46 * celsius) / (272.62 + celsius));
