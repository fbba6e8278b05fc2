/**
 * Rule round-wavelength: a wavelength in air that was typed as a round figure, or as that of the laser in vacuum. Between the two lie
 * 2.7 parts in 10⁴; a third of a part in 10⁴ moves a reference at a metre by tens of micrometres. Asked of designs that wish for an accuracy.
 *
 * Vacuum wavelengths: helium–neon by CIPM 2007 for an unstabilised laser; the others, from memory, are those of common lines.
 */
import { COMMON_PRACTICE } from '../metrology/budget/practice.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import { wishedDegrees } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

/** nm, in vacuum. */
const LASERS = [
  { name: 'a helium–neon laser', vacuum: 632.9908 },
  { name: 'a green helium–neon laser', vacuum: 543.5163 },
  { name: 'a frequency-doubled Nd:YAG laser', vacuum: 532.245 },
] as const;

/** Relative: a figure this near to a laser's was typed from it, to five digits or more. */
const TYPED = 1e-5;
/** nm: figures to the tenth are rounded. */
const ROUND = 0.1;

export const roundWavelength = rule(
  {
    code: 'round-wavelength',
    severity: 'note',
    scope: 'design',
    meaning: 'The wavelength in air looks rounded, or like that in vacuum.',
    limit: 'a whole multiple of 0.1 nm, or the vacuum wavelength of a common laser',
    remedy:
      'Give `vacuumWavelength` and `air`, or the wavelength in air to a picometre; `light.uncertainty` says how well it is known.',
    planning: { by: 'moving' },
  },
  ({ scenario: { light, wanted } }): readonly Found[] => {
    const asked = wishedDegrees(wanted).length > 0;
    if (!asked || light.given === 'vacuum' || light.uncertainty?.wavelength !== undefined) return [];
    const typed = light.wavelength * NM_PER_MM;
    const laser = LASERS.find(({ vacuum }) => Math.abs(typed / vacuum - 1) < TYPED);
    const isRound = Math.abs(typed / ROUND - Math.round(typed / ROUND)) < 1e-6;
    if (laser === undefined && !isRound) return [];
    const shown = `\`wavelength\` is ${trimmed(typed, 4)} nm in air`;
    const ppm = trimmed(COMMON_PRACTICE.wavelengthInAir * 1e6, 0);
    return [
      {
        where: 'light.wavelength',
        message:
          laser === undefined
            ? `${shown}, a round figure: the budget counts ${ppm} parts in a million for it; if it means vacuum, it is 270 too many`
            : `${shown}, which is what ${laser.name} has in vacuum: in air it is shorter by 270 parts in a million`,
        hint: 'give `vacuumWavelength` and `air`, or the wavelength in air to a picometre and `uncertainty: {wavelength: 1 pm}`',
        value: typed,
        unit: 'nm',
        path: ['light', 'wavelength'],
      },
    ];
  },
);
