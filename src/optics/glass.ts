/**
 * Refractive index of optical glasses and crystals by Sellmeier's formula, n² − 1 = Σ Bλ²/(λ² − C), λ in µm in air,
 * C in µm². The index is relative to air, as the catalogues give it, at about 20 °C.
 */

interface Glass {
  readonly name: GlassName;
  readonly strengths: readonly [number, number, number];
  /** Squared resonance wavelengths, µm². */
  readonly resonances: readonly [number, number, number];
  /** Index at the helium d line, 587.5618 nm, as the source prints it: a check of the constants, not used by them. */
  readonly catalogueIndex: number;
  /** Wavelengths that the formula was fitted over, mm. */
  readonly range: readonly [shortest: number, longest: number];
  /** Where the constants come from and how they are known here. */
  readonly source: string;
}

type GlassName = 'fused silica' | 'N-BK7' | 'N-SF11' | 'N-F2' | 'calcium fluoride' | 'sapphire (ordinary)';

const MICROMETRES_PER_MM = 1000;

const square = (x: number): number => x * x;

export const GLASSES: readonly Glass[] = [
  {
    name: 'fused silica',
    strengths: [0.6961663, 0.4079426, 0.8974794],
    resonances: [square(0.0684043), square(0.1162414), square(9.896161)],
    catalogueIndex: 1.45846,
    range: [0.21e-3, 3.71e-3],
    source:
      'I. H. Malitson, J. Opt. Soc. Am. 55, 1205 (1965); constants and n_d found quoted in public sources',
  },
  {
    name: 'N-BK7',
    strengths: [1.03961212, 0.231792344, 1.01046945],
    resonances: [0.00600069867, 0.0200179144, 103.560653],
    catalogueIndex: 1.5168,
    range: [0.3e-3, 2.5e-3],
    source: 'SCHOTT optical glass catalogue (2017); constants and n_d found quoted in public sources',
  },
  {
    name: 'N-SF11',
    strengths: [1.73759695, 0.313747346, 1.89878101],
    resonances: [0.013188707, 0.0623068142, 155.23629],
    catalogueIndex: 1.78472,
    range: [0.37e-3, 2.5e-3],
    source: 'SCHOTT optical glass catalogue; constants and n_d from memory, each a check of the other',
  },
  {
    name: 'N-F2',
    strengths: [1.39757037, 0.159201403, 1.2686543],
    resonances: [0.00995906143, 0.0546931752, 119.248346],
    catalogueIndex: 1.62005,
    range: [0.365e-3, 2.5e-3],
    source: 'SCHOTT optical glass catalogue; constants and n_d from memory, each a check of the other',
  },
  {
    name: 'calcium fluoride',
    strengths: [0.5675888, 0.4710914, 3.8484723],
    resonances: [square(0.050263605), square(0.1003909), square(34.64904)],
    catalogueIndex: 1.43384,
    range: [0.23e-3, 9.7e-3],
    source: 'I. H. Malitson, Appl. Opt. 2, 1103 (1963), at 24 °C; constants and n_d from memory',
  },
  {
    name: 'sapphire (ordinary)',
    strengths: [1.023798, 1.058264, 5.280792],
    resonances: [0.00377588, 0.0122544, 321.3616],
    catalogueIndex: 1.76823,
    range: [0.2652e-3, 5.577e-3],
    source: 'I. H. Malitson, J. Opt. Soc. Am. 52, 1377 (1962), at 24 °C; constants and n_d from memory',
  },
];

/** Throws a RangeError for a name that is not in the table. */
export function glassNamed(name: string): Glass {
  const glass = GLASSES.find((candidate) => candidate.name === name);
  if (glass === undefined) {
    throw new RangeError(`no glass named "${name}"; known are ${GLASSES.map((g) => g.name).join(', ')}`);
  }
  return glass;
}

/**
 * Index of a named glass relative to air; `wavelength` in air, mm.
 * Throws a RangeError for a name that is not in the table and for a wavelength outside the glass's range.
 */
export function glassIndex(name: string, wavelength: number): number {
  const glass = glassNamed(name);
  const [shortest, longest] = glass.range;
  if (!(wavelength >= shortest && wavelength <= longest)) {
    throw new RangeError(
      `${glass.name} has no index at a wavelength of ${wavelength} mm; its formula holds from ${shortest} mm to ${longest} mm`,
    );
  }
  return sellmeier(glass, square(wavelength * MICROMETRES_PER_MM));
}

function sellmeier({ strengths, resonances }: Glass, wavelengthSquared: number): number {
  let sum = 1;
  for (let term = 0; term < 3; term++) {
    sum += (strengths[term]! * wavelengthSquared) / (wavelengthSquared - resonances[term]!);
  }
  return Math.sqrt(sum);
}
