/** Powers against `**`, whose rounding is V8's and moves from one version to the next, and against decimal texts. */
import { assert, double, integer, property } from 'fast-check';
import { describe, expect, test } from 'vitest';
import { powerOfTen, raised } from '../../src/quantity/power.ts';

/** Relative: a few factors' rounding, or the rounding of an exponent of up to 700 in e to that exponent. */
const CLOSE = 2e-13;

/** Where both are ordinary numbers; below 1e-290 a reciprocal's factors may overflow first. */
function expectClose(ours: number, theirs: number): void {
  if (Number.isNaN(theirs)) expect(ours).toBeNaN();
  else if (Math.abs(theirs) > 1e-290 && Math.abs(theirs) < 1e290)
    expect(Math.abs(ours / theirs - 1)).toBeLessThan(CLOSE);
  else expect(Math.abs(ours) < 1e-289 || Math.abs(ours) > 1e289).toBe(true);
}

describe('raised', () => {
  test('is what `**` is, but for the last digits, for any base and exponent', () => {
    const base = double({ noNaN: true, min: -1e6, max: 1e6 });
    assert(
      property(base, double({ noNaN: true, min: -100, max: 100 }), (b, e) =>
        expectClose(raised(b, e), b ** e),
      ),
    );
    assert(property(base, integer({ min: -200, max: 200 }), (b, e) => expectClose(raised(b, e), b ** e)));
  });

  test.each([
    [3, 0, 1],
    [0, 0, 1],
    [0, 2.5, 0],
    [0, -1, Number.POSITIVE_INFINITY],
    [0, -0.5, Number.POSITIVE_INFINITY],
    [-2, 3, -8],
    [-2, -2, 0.25],
    [-1, 101, -1],
    [-1, 100, 1],
    [-8, 1 / 3, Number.NaN],
    [-8, 65.5, Number.NaN],
    [2, 0.5, Math.SQRT2],
    [4, -1.5, 0.125],
    [10, 6, 1e6],
    [Number.POSITIVE_INFINITY, -0.5, 0],
    [2, Number.NaN, Number.NaN],
  ])('%s to the power %s is %s', (base, exponent, value) => {
    expect(raised(base, exponent)).toBe(value);
  });

  test('a small whole power is the product', () => {
    assert(
      property(double({ noNaN: true, min: -1e50, max: 1e50 }), (x) => {
        expect(raised(x, 3)).toBe(x * (x * x));
      }),
    );
  });
});

test('a power of ten is the number that its decimal text stands for', () => {
  for (let n = -300; n <= 300; n++) {
    const digits = n < 0 ? `0.${'0'.repeat(-n - 1)}1` : `1${'0'.repeat(n)}`;
    expect(powerOfTen(n)).toBe(Number(digits));
  }
});
