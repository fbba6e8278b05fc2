/** How a table of points was read: what its reader recognised, for the user to check. */

export interface PointTable {
  readonly separator: 'comma' | 'semicolon' | 'tab' | 'blanks';
  readonly decimal: 'point' | 'comma';
  readonly coordinates: 'cartesian' | 'spherical';
  /** What vertical angles are counted from; null without them. */
  readonly verticalAnglesFrom: 'horizon' | 'zenith' | null;
  readonly columns: readonly ReadColumn[];
  /** Columns that were not used, as they are written. */
  readonly left: readonly string[];
  /** Numbers of the lines above the header, or of a header that `--columns` replaces, that were passed over; from 1. */
  readonly linesPassedOver: readonly number[];
  /** Points whose names are written otherwise than in the scenario. */
  readonly renamed: readonly { readonly written: string; readonly point: string }[];
}

interface ReadColumn {
  readonly column: string;
  /** What it holds: `point`, `x`, `range` … */
  readonly holds: string;
  /** Null of names. */
  readonly unit: string | null;
  /** Where the unit was found; null of names. */
  readonly unitFrom: UnitSource | null;
}

/** In the column's name, in a row of units below the header, in a line above it, or given as an option. */
export type UnitSource = 'column' | 'row' | 'line' | 'option';
