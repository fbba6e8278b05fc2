/**
 * What the fabricator is held to is what the budget counts with: each limit is twice the standard uncertainty (JCGM 100, 6.2.2) that the
 * budget's sources have, whether the scenario states it or common practice does.
 */
import { expect, test } from 'vitest';
import { wavefronts, wedge } from '../../src/metrology/budget/blank-errors.ts';
import { blankCountedOn, limitOf, placementCountedOn } from '../../src/metrology/budget/fabricator-limits.ts';
import { patternPlacement } from '../../src/metrology/budget/pattern-errors.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { designFrom, pointPatch } from './support/design-from.ts';

const design = (substrate: object, process: object) =>
  designFrom({
    substrate: {
      outline: { circle: { diameter: 150 } },
      edgeMargin: 3,
      thickness: 6.35,
      glass: 'fused silica',
      ...substrate,
    },
    process: { kind: 'etched', ...process },
    references: [{ id: 'ball', kind: 'ball', diameter: 12.7, at: [0, 60, 150] }],
    patches: [pointPatch('p', 'ball', [0, 50])],
  });

test.each([
  ['stated', { tolerance: { wedge: '20 urad', wavefront: 0.02 } }, { placement: '0.15 um' }, true],
  ['by common practice', {}, {}, false],
] as const)('%s', (_, substrate, process, stated) => {
  const made = design(substrate, process);
  const counted = blankCountedOn(made);
  const placement = placementCountedOn(made);
  for (const own of [counted.wedge, counted.wavefront, placement]) expect(own.stated).toBe(stated);
  const uOf = (sources: readonly { readonly u: number; readonly term: string }[], term: string): number[] => [
    ...new Set(sources.filter((one) => one.term === term).map(({ u }) => u)),
  ];
  const wedges = uOf(wedge(made, [], COMMON_PRACTICE), 'wedge');
  const waves = uOf(wavefronts(made, [], COMMON_PRACTICE), 'transmitted wavefront');
  const places = uOf(patternPlacement(made, [], COMMON_PRACTICE), 'pattern placement');
  expect([wedges, waves, places].map(({ length }) => length)).toEqual([1, 1, 1]);
  expect(limitOf(counted.wedge)).toBe(2 * wedges[0]!);
  expect(limitOf(counted.wavefront)).toBe(2 * waves[0]!);
  expect(limitOf(placement)).toBe(2 * places[0]!);
});
