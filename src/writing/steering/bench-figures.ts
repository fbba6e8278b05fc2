/**
 * Figures for the bench: moves in µm and µrad; in text a value to the digits that its uncertainty leaves, always with its sign, the
 * minus a minus.
 */
import { negate, type Vec3 } from '../../geometry/vector.ts';
import type { Displacement } from '../../metrology/steering/steering-part.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';

export const xyz = ([x, y, z]: Vec3, factor: number) => ({ x: x * factor, y: y * factor, z: z * factor });

/** From mm and rad. */
export const moveRow = ({ translation, rotation: [rx, ry, rz] }: Displacement) => ({
  move_um: xyz(translation, UM_PER_MM),
  move_urad: { rx: rx * URAD_PER_RAD, ry: ry * URAD_PER_RAD, rz: rz * URAD_PER_RAD },
});

/** The move to make against a displacement. */
export const undoing = ({ translation, rotation }: Displacement): Displacement => ({
  translation: negate(translation),
  rotation: negate(rotation),
});

type Figures = Readonly<Record<string, number | null>>;

/** Each degree of freedom with its standard uncertainty, and in brackets the one with the full budget. */
export const degreesText = (
  move: Readonly<Record<string, number>>,
  sigma: Figures,
  combined: Figures,
  unit: string,
): string =>
  Object.entries(move)
    .map(([degree, value]) => {
      const [own, all] = [sigma[degree] ?? null, combined[degree] ?? null];
      if (own === null || all === null) return `${degree} ${signed(value, 0.1)} ${unit}, unobserved`;
      return `${degree} ${signed(value, own)} ± ${rounded(own)} (${rounded(all)}) ${unit}`;
    })
    .join('   ');

/** To the decimals that its uncertainty has, always with its sign. */
export function signed(value: number, uncertainty: number): string {
  const text = Math.abs(value).toFixed(decimalsOf(uncertainty));
  if (Number(text) === 0) return text;
  return `${value < 0 ? '−' : '+'}${text}`;
}

export const rounded = (value: number): string => value.toFixed(decimalsOf(value));

/** Two significant digits of an uncertainty. */
const decimalsOf = (uncertainty: number): number =>
  uncertainty > 0 ? Math.min(9, Math.max(0, 1 - Math.floor(Math.log10(uncertainty)))) : 1;
