/** The columns of a coefficient table: which quantity a name stands for, and what its unit makes of a number. */
import { commonUnit, fromUnit } from '../../quantity/unit.ts';
import { columnName, columnUnit } from './column-name.ts';

export type TableQuantity =
  | 'patch'
  | 'basis'
  | 'index'
  | 'i'
  | 'j'
  | 'coefficient'
  | 'unitRadius'
  | 'centreX'
  | 'centreY'
  | 'order';

export interface TableColumn {
  readonly quantity: TableQuantity;
  /** As the head has it. */
  readonly name: string;
  readonly position: number;
  /** To mm, waves or plain numbers: a written number is multiplied by it. */
  readonly scale: number;
}

export interface TableColumns {
  of(quantity: TableQuantity): TableColumn | undefined;
}

const PLAIN: readonly TableQuantity[] = ['patch', 'basis', 'index', 'i', 'j', 'order'];
const LENGTHS: readonly (readonly [name: string, TableQuantity, number])[] = [
  ['unitRadius', 'unitRadius', 1],
  ['unitDiameter', 'unitRadius', 0.5],
  // as older tables have it
  ['normRadius', 'unitRadius', 1],
  ['normDiameter', 'unitRadius', 0.5],
  ['centreX', 'centreX', 1],
  ['centreY', 'centreY', 1],
];

/** The column of this name, undefined if the name means nothing, or what is wrong with it. `wavelength` in mm. */
export function columnNamed(
  name: string,
  position: number,
  wavelength: number,
): TableColumn | string | undefined {
  const plain = PLAIN.find((quantity) => quantity === name.toLowerCase());
  if (plain !== undefined) return { quantity: plain, name, position, scale: 1 };
  const { stem, unit = '' } = columnName(name);
  if (stem === 'coefficient') {
    const scale = perWave(unit, wavelength);
    if (scale !== undefined) return { quantity: 'coefficient', name, position, scale };
    return `column ${JSON.stringify(name)} has no phase unit; expected coefficient_waves, _rad, _deg, _nm, _um or _mm`;
  }
  const length = LENGTHS.find(([known]) => known.toLowerCase() === stem);
  if (length === undefined) return undefined;
  const [known, quantity, factor] = length;
  const found = columnUnit(name, known, unit, 'length');
  return typeof found === 'string' ? found : { quantity, name, position, scale: factor * fromUnit(1, found) };
}

/** Waves in one unit of the column. */
function perWave(unit: string, wavelength: number): number | undefined {
  if (unit === 'waves') return 1;
  const known = commonUnit(unit);
  if (known?.dimension === 'length') return fromUnit(1, known) / wavelength;
  if (known?.dimension === 'angle') return fromUnit(1, known) / (2 * Math.PI);
  return undefined;
}
