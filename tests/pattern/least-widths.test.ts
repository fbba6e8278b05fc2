/** The narrowest line and space of several patterns, against |∇Φ| over a dense grid of each; widths mm, edges shifted outward by `shift`. */
import { expect, it } from 'vitest';
import { leastWidths } from '../../src/pattern/least-widths.ts';
import { designFrom, linePatch, pointPatch } from '../metrology/support/design-from.ts';

const design = designFrom({
  references: [
    { id: 'north', kind: 'smr', diameter: '1.5 in', at: [0, 250, 2800] },
    { id: 'near', kind: 'ball', diameter: '0.5 in', at: [90, 20, 130] },
  ],
  patches: [linePatch('north-1', 'north', [0, 60], 90), pointPatch('near-1', 'near', [60, 0])],
});
const STEPS = 200;

/** By the gradients inside: the grid misses the very edge by a step at most. */
const onGrid = design.patches.map(({ id, centre: [x, y], outline, phase }) => {
  const periods: number[] = [];
  for (let i = 0; i <= STEPS; i++)
    for (let k = 0; k <= STEPS; k++) {
      const [u, v] = [(10 * i) / STEPS - 5, (10 * k) / STEPS - 5];
      if (outline.shape === 'circle' && Math.hypot(u, v) > 5) continue;
      const [gx, gy] = phase.gradient(x + u, y + v);
      periods.push(1 / Math.hypot(gx, gy));
    }
  return { id, period: Math.min(...periods) };
});
const finest = onGrid.reduce((least, one) => (one.period < least.period ? one : least));

it.each([
  ['line', 0.3, 0, 0.3, 0],
  ['space', 0.3, 0, 0.7, 0],
  ['line', 0.5, 5e-5, 0.5, 1e-4],
  ['space', 0.5, 5e-5, 0.5, -1e-4],
  ['line', 0.5, -5e-5, 0.5, -1e-4],
] as const)('%s at a duty of %d, shifted by %d mm', (kind, duty, shift, share, widened) => {
  const patterns = design.patches.filter(({ id }) => id === finest.id);
  for (const among of [patterns, design.patches]) {
    const least = leastWidths(among, duty, shift)![kind];
    expect(least.pattern).toBe(finest.id);
    const expected = share * finest.period + widened;
    expect(least.width).toBeLessThanOrEqual(expected + 1e-12);
    // 1e-3 of the period: what it changes by over a step of the grid.
    expect(least.width).toBeGreaterThan(expected - 1e-3 * finest.period);
  }
});

it('is none where there are no patterns', () => {
  expect(leastWidths([], 0.5, 0)).toBeUndefined();
});
