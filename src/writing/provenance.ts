/** Where a package comes from, as each of its files may say: the program, the scenario's bytes and what belongs to them. */
import type { WrittenFiles } from './written-areas.ts';

export interface Provenance {
  /** Of the program. */
  readonly version: string;
  /** SHA-256 of the scenario's bytes, hex, line ends as LF. */
  readonly scenarioHash: string;
  /** Whether the design breaks a rule and is written all the same: NOT FOR FABRICATION. */
  readonly draft: boolean;
  /** SHA-256, hex, of each file that the scenario names, such as a mesh. */
  readonly named?: ReadonlyMap<string, string>;
  /** SHA-256 of coefficients.csv, hex, in a file that belongs to that table. */
  readonly tableHash?: string;
  /** How the package's pattern files are written; absent: there are none. */
  readonly patternFiles?: WrittenFiles;
  /** For the drawing where the scenario gives none: such as 2026-01-31. */
  readonly date?: string;
}
