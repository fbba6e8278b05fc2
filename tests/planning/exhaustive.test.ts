/** Against exhaustive search: on a small grid of sites every combination is tried, and the exchange finds the best or nearly. */
import { expect, test } from 'vitest';
import { Layout } from '../../src/planning/layout.ts';
import { problemOf } from '../../src/planning/plan-problem.ts';
import { anglesOf, type Placement, placementOf } from '../../src/planning/slot.ts';
import { exchanged } from './support/exchanged.ts';
import { openScenario, type Words } from './support/open-scenario.ts';
import '../machine/patience.ts';

const SIZE = 10;
/** As many as the planner makes of so few patches. */
const STARTS = Array.from({ length: 16 }, (_, k) => `start ${k}`);

function scene(references: readonly Words[], counts: readonly number[], wanted: Words) {
  return openScenario({
    part: { origin: [0, 0, 1500] },
    references,
    patches: references.flatMap(({ id }, k) =>
      Array.from({ length: counts[k]! }, (_, n) => ({
        id: `${id}-${n + 1}`,
        reference: id,
        focus: 'line',
        centre: 'auto',
        lineAngle: 'auto',
        outline: 'auto',
        size: { least: SIZE, most: SIZE },
      })),
    ),
    wanted,
  });
}

const smr = (id: string, x: number, y: number, z: number): Words => ({
  id,
  kind: 'smr',
  diameter: 38.1,
  at: [x, y, z],
});

test.each<[string, readonly Words[], readonly number[], Words]>([
  ['one SMR, three patches: x, y, z', [smr('a', 80, 30, 1000)], [3], { x: '10 um', y: '10 um', z: '150 um' }],
  [
    'two SMRs, two patches and one: x, y, rz',
    [smr('a', 150, 0, 1400), smr('b', -150, 40, 1400)],
    [2, 1],
    { x: '10 um', y: '10 um', rz: '50 urad' },
  ],
  [
    'two SMRs at different distances: x, z, ry',
    [smr('a', 150, 0, 1400), smr('b', -100, 40, 900)],
    [2, 1],
    { x: '10 um', z: '200 um', ry: '1 mrad' },
  ],
])('%s', (_, references, counts, wanted) => {
  const { scenario, open } = scene(references, counts, wanted);
  const problem = problemOf(scenario, open);
  const four = new Layout(problem.design, problem.references, 60).grid.sites
    .filter((_, k) => k % 17 === 3)
    .slice(0, 4);
  expect(four.length).toBe(4);
  const grid = { sites: four, pitch: 20 };

  const layout = new Layout(problem.design, problem.references, grid);
  exchanged(layout, problem.slots, SIZE, STARTS);
  const found = layout.score().smooth;

  // Every site and angle for every slot.
  const every = new Layout(problem.design, problem.references, grid);
  let least = Number.POSITIVE_INFINITY;
  let tried = 0;
  const go = (n: number): void => {
    const slot = problem.slots[n];
    if (slot === undefined) {
      tried++;
      least = Math.min(least, every.score().smooth);
      return;
    }
    for (const { at } of four) {
      if ([...every.placements.values()].some(({ centre }) => centre === at)) continue;
      for (const angle of anglesOf(slot)) {
        const placement: Placement = placementOf(problem.design, slot, at, angle, SIZE);
        if (!every.isFree(placement)) continue;
        every.placements.set(slot, placement);
        go(n + 1);
        every.placements.delete(slot);
      }
    }
  };
  go(0);
  expect(tried).toBeGreaterThan(10_000);
  expect(found).toBeLessThanOrEqual(least * 1.02);
  // Nor can it be better than the best of all.
  expect(found).toBeGreaterThanOrEqual(least * (1 - 1e-9));
});
