/** What a column's name says: `x_mm`, `x mm`, `x [mm]` and `x (mm)` are x in millimetres. Capitals do not matter but in the unit. */
import { commonUnit, type Unit } from '../../quantity/unit.ts';

export interface ColumnName {
  /** In small letters. */
  readonly stem: string;
  /** As it was written; undefined where the name has none. */
  readonly unit: string | undefined;
}

/** The last `_` or blank parts stem from unit where there are no brackets. */
export function columnName(name: string): ColumnName {
  const open = name.endsWith(']') ? name.lastIndexOf('[') : name.endsWith(')') ? name.lastIndexOf('(') : -1;
  const at = open < 0 ? Math.max(name.lastIndexOf('_'), name.lastIndexOf(' ')) : open;
  if (at < 0) return { stem: name.toLowerCase(), unit: undefined };
  const unit = name.slice(at + 1, open < 0 ? undefined : -1).trim();
  const stem = name.slice(0, at).trimEnd();
  return { stem: (open >= 0 && stem.endsWith('_') ? stem.slice(0, -1) : stem).toLowerCase(), unit };
}

/** The units offered in a hint. */
const OFFERED = {
  length: ['mm', 'um', 'nm', 'cm', 'm', 'in'],
  angle: ['deg', 'rad', 'mrad', 'arcmin', 'arcsec'],
};

/** The unit of a column that holds lengths or angles, or what is wrong with its name, which starts with `stem`. */
export function columnUnit(
  name: string,
  stem: string,
  unit: string | undefined,
  dimension: 'length' | 'angle',
): Unit | string {
  const known = unit === undefined || unit === '' ? undefined : commonUnit(unit);
  if (known?.dimension === dimension) return known;
  const [first, ...others] = OFFERED[dimension];
  const expected = `${stem}_${first}, ${others
    .slice(0, -1)
    .map((each) => `_${each}`)
    .join(', ')} or _${others.at(-1)}`;
  return `column ${JSON.stringify(name)} has no ${dimension} unit; expected ${expected}`;
}
