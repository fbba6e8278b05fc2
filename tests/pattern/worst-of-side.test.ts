/** The worst deviation of a side, against the parabola looked at in a thousand places. */
import { expect, test } from 'vitest';
import { worstOfSide } from '../../src/pattern/place-vertices.ts';

test.each([
  ['both ends out by half the bow', 0.5, -0.5, 0.5],
  ['one end on the fringe', 0, -0.49, 0.5],
  ['the other on it', 0.5, -0.49, 0],
  ['bowed the other way', -0.2, 0.7, 0.1],
  ['as good as straight', 0.1, 0.2, 0.3001],
  ['no bow at all', 0.3, 0.3, 0.3],
])('%s', (_, from, middle, to) => {
  let worst = 0;
  for (let k = 0; k <= 1000; k++) {
    const t = k / 1000;
    // Lagrange's parabola through the three.
    const deviation = from * (1 - t) * (1 - 2 * t) + middle * 4 * t * (1 - t) + to * t * (2 * t - 1);
    worst = Math.max(worst, Math.abs(deviation));
  }
  expect(worstOfSide(from, middle, to)).toBeCloseTo(worst, 5);
});
