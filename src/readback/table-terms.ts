/** Which coefficients of a table differ from the design's own fit, for a block in the fit's own centre and radius. Waves. */

import type { Pattern } from '../design/pattern.ts';
import { fitPhase } from '../design/phase-fit.ts';
import type { TableBlock } from '../scenario/coefficient-table.ts';

interface TermDifference {
  readonly i: number;
  readonly j: number;
  /** Undefined where the row is missing. */
  readonly found: number | undefined;
  readonly meant: number;
}

/** Centres and radii are the same up to this part of the radius: nine decimals of a mm, generously. */
const SAME_FRAME = 1e-6;

/** The terms that differ by more than `bound`, largest first; undefined where the block has a frame of its own. */
export function termDifferences(
  patch: Pattern,
  block: TableBlock,
  bound: number,
): readonly TermDifference[] | undefined {
  const fit = fitPhase(patch);
  if (block.basis !== fit.basis) return undefined;
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= SAME_FRAME * fit.unitRadius;
  const { centre, unitRadius } = block;
  if (!near(centre[0], fit.centre[0]) || !near(centre[1], fit.centre[1]) || !near(unitRadius, fit.unitRadius))
    return undefined;
  const found = new Map(block.terms.map(({ i, j, coefficient }) => [`${i} ${j}`, coefficient]));
  const meant = new Map(fit.terms.map(({ i, j, coefficient }) => [`${i} ${j}`, coefficient]));
  const keys = [...new Set([...meant.keys(), ...found.keys()])];
  return keys
    .map((key): TermDifference => {
      const [i, j] = key.split(' ').map(Number) as [number, number];
      return { i, j, found: found.get(key), meant: meant.get(key) ?? 0 };
    })
    .filter(({ found: own, meant: wanted }) => Math.abs((own ?? 0) - wanted) > bound)
    .sort((a, b) => Math.abs((b.found ?? 0) - b.meant) - Math.abs((a.found ?? 0) - a.meant));
}
