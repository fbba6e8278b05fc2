/**
 * What a block of a coefficient table may have meant by its numbers: the block again, its coefficients in the program's own
 * terms, for each misreading of the terms themselves. Waves, mm.
 */
import { zernikeNorm, zernikeOrdersFromIndex } from '../optics/zernike.ts';
import { raised } from '../quantity/power.ts';
import type { TableBlock, TableTerm } from '../scenario/coefficient-table.ts';
import type { Step } from './misreading.ts';

type Reading = readonly [block: TableBlock, steps: readonly Step[]];

/** Steps that concern Zernike terms alone, or polynomials alone: they do nothing to a block of another basis. */
export const ZERNIKE_STEPS: readonly Step[] = [
  'unit-peak-zernikes',
  'zernikes-divided',
  'noll-order',
  'fringe-order',
  'sines-for-cosines',
];
export const POLYNOMIAL_STEPS: readonly Step[] = ['powers-of-mm', 'normalised-twice'];

/** The block as it stands first. */
export function blockReadings(block: TableBlock): readonly Reading[] {
  if (block.basis === 'zernike') {
    const fringe = inFringeOrder(block);
    return [
      [block, []],
      [timesNorms(block, -1), ['unit-peak-zernikes']],
      [timesNorms(block, 1), ['zernikes-divided']],
      [reordered(block, nollOrders), ['noll-order']],
      [fringe, ['fringe-order']],
      [timesNorms(fringe, -1), ['fringe-order', 'unit-peak-zernikes']],
      [exchanged(block), ['sines-for-cosines']],
    ];
  }
  if (block.basis === 'roof') return [[block, []]];
  return [
    [block, []],
    [timesRadii(block, 1), ['powers-of-mm']],
    [timesRadii(block, -1), ['normalised-twice']],
  ];
}

const withTerms = (block: TableBlock, change: (term: TableTerm) => TableTerm): TableBlock => ({
  ...block,
  terms: block.terms.map(change),
});

const scaled = (term: TableTerm, by: number): TableTerm => ({
  ...term,
  coefficient: term.coefficient * by,
  lastDigit: term.lastDigit * by,
});

const timesNorms = (block: TableBlock, power: 1 | -1): TableBlock =>
  withTerms(block, (term) => {
    const norm = zernikeNorm([term.i, term.j]);
    return scaled(term, power > 0 ? norm : 1 / norm);
  });

/** `power` −1 takes back one division too few: the mm powers were multiplied in once more. */
const timesRadii = (block: TableBlock, power: 1 | -1): TableBlock =>
  withTerms(block, (term) => {
    const by = raised(block.unitRadius, block.basis === 'radial' ? 2 * term.i : term.i + term.j);
    return scaled(term, power > 0 ? by : 1 / by);
  });

const exchanged = (block: TableBlock): TableBlock =>
  withTerms(block, (term) => ({ ...term, j: -term.j + 0 }));

/** The p-th row of the ISO order holds the p-th coefficient of another order. */
const reordered = (
  block: TableBlock,
  ordersOf: (position: number) => readonly [number, number],
): TableBlock =>
  withTerms(block, (term) => {
    const [i, j] = ordersOf((term.i * (term.i + 2) + term.j) / 2);
    return { ...term, i, j };
  });

/**
 * n and m (negative for the sines) of the term after `position` others in Noll's order.
 * R. J. Noll, "Zernike polynomials and atmospheric turbulence", J. Opt. Soc. Am. 66, 207 (1976), table I: by n, then by |m|; even j
 * are cosines, odd j sines.
 */
function nollOrders(position: number): readonly [number, number] {
  const index = position + 1;
  const [n] = zernikeOrdersFromIndex(position);
  const within = position - (n * (n + 1)) / 2;
  const m = n % 2 === 0 ? 2 * Math.floor((within + 1) / 2) : 2 * Math.floor(within / 2) + 1;
  return [n, index % 2 === 0 ? m : -m + 0];
}

/**
 * n and m of the term after `position` others in the fringe order: by n + |m|, then by |m| from the highest, cosine before sine (common
 * practice of interferometer software; the set of 37 as in many textbooks).
 */
function fringeOrders(position: number): readonly [number, number] {
  const row = Math.floor(Math.sqrt(position));
  const within = position - row * row;
  const m = row - Math.floor(within / 2);
  return [2 * row - m, within % 2 === 0 ? m : -m];
}

const inFringeOrder = (block: TableBlock): TableBlock => reordered(block, fringeOrders);
