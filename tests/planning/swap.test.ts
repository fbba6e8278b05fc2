/** Two patches on a glass with room for two only: what no single move can better, changing places does. */
import { expect, test } from 'vitest';
import { Layout } from '../../src/planning/layout.ts';
import { exchangeOne, swapRound } from '../../src/planning/moves.ts';
import { problemOf } from '../../src/planning/plan-problem.ts';
import type { Placement } from '../../src/planning/slot.ts';
import { openScenario } from './support/open-scenario.ts';

const SIZE = 10;
const IDS = ['a', 'b'];
const { scenario, open } = openScenario({
  part: { origin: [0, 0, 1500] },
  references: [
    { id: 'a', kind: 'smr', diameter: 38.1, at: [150, 0, 1400] },
    { id: 'b', kind: 'smr', diameter: 38.1, at: [-100, 40, 900] },
  ],
  patches: IDS.map((id) => ({
    ...{ id: `${id}-1`, reference: id, focus: 'line', centre: 'auto', lineAngle: 'auto', outline: 'auto' },
    size: { least: SIZE, most: SIZE },
  })),
  wanted: { x: '10 um', z: '200 um', ry: '1 mrad' },
});
const problem = problemOf(scenario, open);

/** A layout whose two sites are taken, the first by the slot with this number. */
function taken(first: number): Layout {
  const every = new Layout(problem.design, problem.references, 60).grid.sites;
  const sites = every.filter((_, k) => k % 17 === 3).slice(0, 2);
  const layout = new Layout(problem.design, problem.references, { sites, pitch: 20 });
  sites.forEach(({ at }, k) => {
    const slot = problem.slots[(first + k) % 2];
    layout.placements.set(slot, layout.bestAt(slot, SIZE, at) as Placement);
  });
  return layout;
}

test('patches that stand the worse way round change places, and only they', () => {
  const [one, other] = [taken(0), taken(1)];
  const [better, worse] = one.score().smooth < other.score().smooth ? [one, other] : [other, one];
  const [best, before] = [better.score().smooth, worse.score().smooth];
  expect(best).toBeLessThan(0.99 * before);
  for (const slot of problem.slots) expect(exchangeOne(worse, slot)).toBe(false);
  expect(swapRound(worse, problem.slots)).toBe(true);
  expect(worse.score().smooth).toBeCloseTo(best, 9);
  expect(swapRound(better, problem.slots)).toBe(false);
  expect(better.score().smooth).toBe(best);
});
