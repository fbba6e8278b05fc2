/**
 * What one block of a coefficient table means against the part of the phase that it stands for: the largest difference
 * over the patch, and, where that is too much, every combination of misreadings (misreading.ts) that gives the block.
 * Places mm, substrate frame; phases waves at order 1.
 */

import type { Pattern } from '../design/pattern.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { TableBlock, TableConvention } from '../scenario/coefficient-table.ts';
import { POLYNOMIAL_STEPS, ZERNIKE_STEPS } from './block-readings.ts';
import { keyOf, type Step, totalWeight } from './misreading.ts';
import {
  type Explanation,
  MOST_WEIGHT,
  meantPhases,
  misreadingSearch,
  pointsOf,
  roundingOf,
  WIDEST,
} from './misreading-search.ts';
import { rowSlips } from './row-slips.ts';
import { tablePhases } from './table-phase.ts';

export interface BlockMeaning {
  readonly block: TableBlock;
  /** Largest difference over the patch as the table reads, waves, and where. */
  readonly worst: number;
  readonly worstAt: Vec2;
  /** Within the bound everywhere. */
  readonly same: boolean;
  /** By key: the sets of steps that give the block within the bound. Worked out when first asked for: a table that is right needs none. */
  readonly explanations: () => ReadonlyMap<string, Explanation>;
  /** The digits that were not written, rounded or cut off, can make this difference. */
  readonly rounded: boolean;
  /** What they can make where they were rounded, waves; cut off, twice as much. */
  readonly rounding: number;
}

/** Points of the comparison: dense enough for the highest degree of a table. */
const INSIDE = 2000;
const ALONG = 400;

export function blockMeaning(
  patch: Pattern,
  block: TableBlock,
  convention: TableConvention,
  wavelength: number,
  bound: number,
): BlockMeaning {
  const dense = pointsOf(patch, INSIDE, ALONG);
  const found = tablePhases(block, convention, dense);
  const meant = meantPhases(patch, block.basis, dense);
  let at = 0;
  let worst = 0;
  found.forEach((value, k) => {
    const difference = Math.abs(value - meant[k]!);
    if (!(difference <= worst)) [worst, at] = [difference, k];
  });
  const worstAt: Vec2 = [dense.xs[at]!, dense.ys[at]!];
  const search = misreadingSearch(patch, block, convention, wavelength, bound);
  const rounding = roundingOf(block);
  const rounded = worst > bound && worst <= bound + Math.min(2 * rounding, WIDEST * search.range);
  let known: ReadonlyMap<string, Explanation> | undefined;
  const explanations = () => {
    known ??= explanationsOf(
      block,
      search,
      rowSlips(patch, block, bound),
      worst <= bound ? worst : undefined,
    );
    return known;
  };
  return { block, worst, worstAt, same: worst <= bound, explanations, rounded, rounding };
}

const NO_NUMBER = { by: 1, factor: undefined, factorWithin: 0, stretch: undefined, shift: undefined };

/** `difference`: of a block that means the same as it stands. */
function explanationsOf(
  block: TableBlock,
  search: ReturnType<typeof misreadingSearch>,
  slips: readonly Step[],
  difference: number | undefined,
): ReadonlyMap<string, Explanation> {
  const explanations = new Map<string, Explanation>();
  if (difference !== undefined) explanations.set('', { steps: [], left: difference, ...NO_NUMBER });
  for (const slip of slips) explanations.set(slip, { steps: [slip], left: 0, ...NO_NUMBER });
  for (const explanation of search.all()) {
    const key = keyOf(explanation.steps);
    const before = explanations.get(key);
    if (key !== '' && (before === undefined || explanation.left < before.left))
      explanations.set(key, explanation);
  }
  addHarmless(block, explanations);
  return explanations;
}

/**
 * Steps that do nothing to this block may explain it along with others: Zernike terms of another peak where there are none, a
 * lost piston where there was none. A constant that is missing where the block has none is the piston.
 */
function addHarmless(block: TableBlock, explanations: Map<string, Explanation>): void {
  const add = (own: Explanation, steps: readonly Step[]): void => {
    if (totalWeight(steps) <= MOST_WEIGHT) explanations.set(keyOf(steps), { ...own, steps });
  };
  const hasPiston =
    block.basis !== 'roof' &&
    block.terms.some(({ i, j, coefficient }) => i === 0 && j === 0 && coefficient !== 0);
  for (const own of hasPiston ? [] : [...explanations.values()]) {
    const others = own.steps.filter((step) => step !== 'constant-added');
    if (others.length < own.steps.length) explanations.delete(keyOf(own.steps));
    add(own, [...others, 'piston-lost']);
  }
  const harmless = [
    ...(block.basis === 'zernike' ? [] : ZERNIKE_STEPS),
    ...(block.basis === 'zernike' || block.basis === 'roof' ? POLYNOMIAL_STEPS : []),
  ];
  for (const own of [...explanations.values()]) for (const step of harmless) add(own, [...own.steps, step]);
  if (block.basis !== 'zernike')
    for (const own of [...explanations.values()].filter(({ steps }) => steps.includes('fringe-order')))
      add(own, [...own.steps, 'unit-peak-zernikes']);
}
