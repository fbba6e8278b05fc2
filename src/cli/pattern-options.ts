/** The options of `make` that ask for the written pattern, as commander gives them. */
import type { Command } from 'commander';

export interface PatternOptions {
  /** `gds` or `oas`, either once. */
  readonly pattern?: readonly string[];
  readonly patternDxf?: boolean;
  readonly every?: string;
  readonly processBias?: string;
  readonly vertexLimit?: string;
  readonly databaseUnit?: string;
}

export const asksForPattern = ({ pattern, patternDxf }: PatternOptions): boolean =>
  pattern !== undefined || patternDxf === true;

export const withPatternOptions = (command: Command): Command =>
  command
    .option('--pattern <format...>', 'the written fringes too: gds (GDSII stream), oas (OASIS), or both')
    .option('--pattern-dxf', 'the written fringes as DXF, for small patterns')
    .option('--every <n>', 'only every n-th fringe: a picture, marked not for fabrication')
    .option('--process-bias <length>', 'outward shift of each written edge, such as "50 nm" or "-0.1 um"')
    .option('--vertex-limit <n>', 'most vertices of a polygon, 4 to 8190')
    .option('--database-unit <length>', 'of GDSII and OASIS: 1 nm, or a whole part of it such as "0.5 nm"');
