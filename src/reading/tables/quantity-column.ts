/**
 * A column's name taken apart into what it is of and its unit: `x_mm`, `x mm`, `x [mm]` or `x (mm)`; and what the unit makes of a number.
 */
import { commonUnit, fromUnit } from '../../quantity/unit.ts';

interface ColumnName {
  readonly stem: string;
  /** As written; empty for none. */
  readonly unit: string;
}

export function namedColumn(name: string): ColumnName {
  const parts = /^(.*?)\s*[[(]\s*([^\])]*?)\s*[\])]$/.exec(name) ?? /^(.+)[_ ]([^_ ]+)$/.exec(name);
  return parts === null ? { stem: name.trim(), unit: '' } : { stem: parts[1]!.trim(), unit: parts[2]! };
}

/** What one unit comes to in mm, or in degrees; undefined for a unit of something else, or none. */
export function scaleOf(unit: string, dimension: 'length' | 'angle'): number | undefined {
  const known = commonUnit(unit);
  if (known?.dimension !== dimension) return undefined;
  if (dimension === 'length') return fromUnit(1, known);
  return known.name === DEGREE.name ? 1 : fromUnit(1, known) / fromUnit(1, DEGREE);
}

const DEGREE = commonUnit('deg')!;
