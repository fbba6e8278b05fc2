/** Cosine and sine by turns against Math.cos and Math.sin of 2πt. */
import { expect, test } from 'vitest';
import { cosineAndSine } from '../../src/algebra/turns.ts';

/** 2π as a double is off by 2.4e-16, 2πt up to a turn is rounded by 4.4e-16 at most, and either value by 1.1e-16. */
const ROUNDING = 9e-16;
const out = new Float64Array(2);

test('as Math has them over a turn, in every quarter and at its ends', () => {
  for (let k = -800; k <= 800; k++) {
    const turns = k / 800;
    cosineAndSine(turns, out);
    expect(Math.abs(out[0]! - Math.cos(2 * Math.PI * turns))).toBeLessThan(ROUNDING);
    expect(Math.abs(out[1]! - Math.sin(2 * Math.PI * turns))).toBeLessThan(ROUNDING);
  }
});

test('whole turns change nothing', () => {
  const once = new Float64Array(2);
  for (const part of [0, 0.1875, 0.5, 0.8125]) {
    cosineAndSine(part, once);
    for (const whole of [-1000, -1, 1, 4096]) {
      cosineAndSine(whole + part, out);
      expect(Array.from(out)).toEqual(Array.from(once));
    }
  }
});
