/** Which coefficients of a returned table differ from the fit, largest first: wrong, missing and added ones. Waves. */
import { expect, test } from 'vitest';
import { fitPhase } from '../../src/design/phase-fit.ts';
import { termDifferences } from '../../src/readback/table-terms.ts';
import type { TableBlock } from '../../src/scenario/coefficient-table.ts';
import { makePatch } from './support/make-patch.ts';

const patch = makePatch({
  ...{ at: [30, 60, 700], centre: [20, 47], kind: 'ball', diameter: 12.7 },
  outline: { shape: 'rectangle', centre: [20, 47], width: 24, height: 9, rotation: 0 },
});
const fit = fitPhase(patch);
type Term = { i: number; j: number; coefficient: number };

const differences = (change: (terms: Term[]) => void, bound = 1e-3, frame: object = {}) => {
  const terms = fit.terms.map(({ i, j, coefficient }): Term => ({ i, j, coefficient }));
  change(terms);
  const block = { basis: 'xy', terms, centre: fit.centre, unitRadius: fit.unitRadius, ...frame };
  return termDifferences(patch, block as unknown as TableBlock, bound);
};
const of = (terms: Term[], i: number, j: number): number =>
  terms.findIndex((one) => one.i === i && one.j === j);
const meant = (i: number, j: number): number => fit.terms[of([...fit.terms], i, j)].coefficient;

test('as fitted: none', () => {
  expect(differences(() => undefined)).toEqual([]);
});

test('a term that the fit has not is found, against 0', () => {
  expect(differences((terms) => terms.push({ i: 40, j: 3, coefficient: -0.25 }))).toEqual([
    { i: 40, j: 3, found: -0.25, meant: 0 },
  ]);
});

test('a term that is missing is not found', () => {
  expect(differences((terms) => terms.splice(of(terms, 1, 1), 1))).toEqual([
    { i: 1, j: 1, found: undefined, meant: meant(1, 1) },
  ]);
});

test('several are told largest first, those within the bound not at all', () => {
  const changed = differences((terms) => {
    for (const [i, j, by] of [
      [1, 0, 0.01],
      [0, 1, -0.03],
      [2, 0, 0.02],
      [0, 2, 0.0009],
    ]) {
      const k = of(terms, i, j);
      terms[k] = { i, j, coefficient: terms[k].coefficient + by };
    }
  });
  expect(changed?.map(({ i, j }) => [i, j])).toEqual([
    [0, 1],
    [2, 0],
    [1, 0],
  ]);
  expect(changed?.[0].found).toBeCloseTo(meant(0, 1) - 0.03, 12);
});

test.each([
  ['centre', { centre: [fit.centre[0] + 0.01, fit.centre[1]] }],
  ['centre', { centre: [fit.centre[0], fit.centre[1] + 0.01] }],
  ['radius', { unitRadius: 2 * fit.unitRadius }],
  ['basis', { basis: 'zernike' }],
])('a block of another %s cannot be compared term by term', (_, frame) => {
  expect(differences(() => undefined, 1e-3, frame)).toBeUndefined();
});
