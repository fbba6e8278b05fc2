/**
 * A coefficient table as someone else wrote it, read back: its blocks in the program's own units (mm; waves at order 1), its
 * own centres and normalisation radii kept. What it means is worked out in readback/table-phase.ts.
 */
import type { Place } from '../finding/finding.ts';
import type { Vec2 } from '../geometry/vector.ts';

/** `xy`: powers u^i v^j. `radial`: ρ^(2i), j 0. `zernike`: ISO 24157 terms of unit root mean square, n and m. `roof`: c0·|c1 u + c2 v|. */
export type TableBasis = 'xy' | 'radial' | 'zernike' | 'roof';
export const TABLE_BASES: readonly TableBasis[] = ['xy', 'radial', 'zernike', 'roof'];

export interface TableTerm {
  /** Powers of u and v; of ρ², and 0; n and m of a Zernike term; (0,0), (1,0), (0,1) for c0, c1, c2 of a roof. */
  readonly i: number;
  readonly j: number;
  /** Waves at order 1; a roof's c1 and c2 plain numbers. */
  readonly coefficient: number;
  /** One unit of the last digit that was written, as large as `coefficient` is scaled. */
  readonly lastDigit: number;
  /** Significant digits as written. */
  readonly digits: number;
}

/** The rows of one patch and basis. */
export interface TableBlock {
  readonly patch: string;
  readonly basis: TableBasis;
  /** As the table has it, in the table's own frame. */
  readonly centre: Vec2;
  readonly unitRadius: number;
  /** Undefined where the table has no column for it. */
  readonly order: number | undefined;
  readonly terms: readonly TableTerm[];
  /** Of its first row. */
  readonly place: Place;
}

/** What the head of the table says of its signs and axes; where it says nothing, the program's own convention. */
export interface TableConvention {
  /** -1: E_out = E_in - m lambda Phi. Already taken into the coefficients. */
  readonly sign: 1 | -1;
  /** -1: the table's x (y) runs the other way, as seen from the part side. Not taken into places and powers. */
  readonly xRuns: 1 | -1;
  readonly yRuns: 1 | -1;
  /** Phi at order 1, or multiplied by the working order. Already taken into the coefficients. */
  readonly phaseAt: 'order 1' | 'order m';
}

export interface CoefficientTable {
  readonly convention: TableConvention;
  /** In the order of the file. */
  readonly blocks: readonly TableBlock[];
}
