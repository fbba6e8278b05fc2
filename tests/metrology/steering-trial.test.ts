/** The trial move that tells an unseen sign changes what the patch shows by one fringe, or by five of its uncertainties, whatever it showed. */
import { expect, test } from 'vitest';
import { steer } from '../../src/metrology/steering/steering.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';

const design = designFrom({
  references: [
    { id: 'north', kind: 'smr', diameter: 38.1, at: [40, 150, 900] },
    { id: 'near', kind: 'ball', diameter: 12.7, at: [20, 60, 110] },
  ],
  patches: [
    linePatch('a', 'north', [0, 50], 90),
    linePatch('b', 'north', [50, 0], 0),
    pointPatch('p', 'near', [10, 40], 12),
  ],
});
const reading = (patch: string, fringes: readonly number[], more: Partial<BenchReading> = {}): BenchReading =>
  ({ kind: 'fringes', patch, fringes, signKnown: true, uncertainty: undefined, ...more }) as BenchReading;

test.each<[number, number | undefined, number]>([
  [0.4, undefined, 1],
  [1.5, undefined, 1],
  [-6, undefined, 1],
  [1.5, 0.15, 1],
  [1.5, 0.5, 2.5],
])('a line that showed %d fringes, read to %s: by %d', (shown, uncertainty, change) => {
  const unsigned = { signKnown: false, uncertainty } as Partial<BenchReading>;
  const [north] = steer(design, [reading('a', [shown], unsigned), reading('b', [0])]).references;
  const { ifPlus, ifMinus } = north.trial!.expected.get(0)!;
  expect(Math.abs(ifPlus[0].fringes - shown)).toBeCloseTo(change, 2);
  expect(Math.abs(ifMinus[0].fringes + shown)).toBeCloseTo(change, 2);
  // The same move either way: what it adds to the one it takes from the other.
  expect(ifPlus[0].fringes - shown).toBeCloseTo(ifMinus[0].fringes + shown, 9);
});

test('of a point’s two tilts the larger one changes by it, the other in proportion', () => {
  const [near] = steer(design, [
    reading('p', [3, -1.5], { signKnown: false } as Partial<BenchReading>),
  ]).references;
  const { ifPlus } = near.trial!.expected.get(0)!;
  const [first, second] = [ifPlus[0].fringes - 3, ifPlus[1].fringes + 1.5];
  expect(Math.abs(first)).toBeCloseTo(1, 2);
  expect(second / first).toBeCloseTo(-0.5, 2);
});
