/** Which coefficients of a table differ from the package's own, for a block in the package's centre and radius. Waves. */

import type { Pattern } from '../design/pattern.ts';
import { fitPhase, smoothPhases } from '../design/phase-fit.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { zernikeCoefficients, zernikeOrdersFromIndex } from '../optics/zernike.ts';
import type { TableBlock } from '../scenario/coefficient-table.ts';

export interface TermDifference {
  readonly i: number;
  readonly j: number;
  /** Undefined where the row is missing. */
  readonly found: number | undefined;
  readonly meant: number;
}

interface MeantTerm {
  readonly i: number;
  readonly j: number;
  readonly coefficient: number;
}

/** Centres and radii are the same up to this part of the radius: nine decimals of a mm, generously. */
const SAME_FRAME = 1e-6;

/** The package's coefficients of the block's basis; undefined where it has none, or the block has a frame of its own. */
export function meantTerms(patch: Pattern, block: TableBlock): readonly MeantTerm[] | undefined {
  const fit = fitPhase(patch);
  const inFrame = (centre: Vec2, radius: number): boolean => {
    const near = (a: number, b: number): boolean => Math.abs(a - b) <= SAME_FRAME * radius;
    const [x, y] = block.centre;
    return near(x, centre[0]) && near(y, centre[1]) && near(block.unitRadius, radius);
  };
  if (block.basis === fit.basis) return inFrame(fit.centre, fit.unitRadius) ? fit.terms : undefined;
  const { outline, bias } = patch;
  if (block.basis === 'zernike') {
    if (outline.shape !== 'circle' || !inFrame(outline.centre, outline.radius)) return undefined;
    const highest = block.terms.reduce((most, { i }) => Math.max(most, i), 0);
    const phases = (xs: Float64Array, ys: Float64Array): Float64Array => smoothPhases(patch, xs, ys);
    return [...zernikeCoefficients(phases, outline.centre, outline.radius, highest)].map((coefficient, k) => {
      const [i, j] = zernikeOrdersFromIndex(k);
      return { i, j, coefficient };
    });
  }
  if (block.basis !== 'roof' || bias?.shape !== 'roof' || !inFrame(bias.centre, fit.unitRadius))
    return undefined;
  const perUnit = fit.unitRadius / bias.reach;
  return [
    { i: 0, j: 0, coefficient: bias.amplitude },
    { i: 1, j: 0, coefficient: perUnit * bias.direction[0] },
    { i: 0, j: 1, coefficient: perUnit * bias.direction[1] },
  ];
}

export const termKey = ({ i, j }: { readonly i: number; readonly j: number }): string => `${i} ${j}`;

/** The terms that differ by more than `bound`, largest first; undefined where the block has a frame of its own. */
export function termDifferences(
  patch: Pattern,
  block: TableBlock,
  bound: number,
): readonly TermDifference[] | undefined {
  const own = meantTerms(patch, block);
  if (own === undefined) return undefined;
  const found = new Map(block.terms.map((term) => [termKey(term), term.coefficient]));
  const meant = new Map(own.map((term) => [termKey(term), term.coefficient]));
  const keys = [...new Set([...meant.keys(), ...found.keys()])];
  return keys
    .map((key): TermDifference => {
      const [i, j] = key.split(' ').map(Number) as [number, number];
      return { i, j, found: found.get(key), meant: meant.get(key) ?? 0 };
    })
    .filter(({ found: value, meant: wanted }) => Math.abs((value ?? 0) - wanted) > bound)
    .sort((a, b) => Math.abs((b.found ?? 0) - b.meant) - Math.abs((a.found ?? 0) - a.meant));
}
