import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fixed, roundedDown, trimmed } from '../../src/quantity/format.ts';

describe('numbers in files', () => {
  test.each([
    [1.25, 1, '1.3'],
    [-0, 3, '0.000'],
    [-0.0004, 3, '0.000'],
    [-0.0006, 3, '-0.001'],
    [1e-9, 6, '0.000000'],
    [1e20, 0, '100000000000000000000'],
    [120, 0, '120'],
  ])('fixed(%d, %d) is %s', (value, digits, text) => expect(fixed(value, digits)).toBe(text));

  test.each([
    [1.5, 6, '1.5'],
    [120, 6, '120'],
    [100, 0, '100'],
    [-0.0000001, 6, '0'],
    [0.1 + 0.2, 9, '0.3'],
    [1e-7, 9, '0.0000001'],
  ])('trimmed(%d, %d) is %s', (value, digits, text) => expect(trimmed(value, digits)).toBe(text));

  test.each([
    [0.0789, 2, 0.078],
    [5.99, 2, 5.9],
    [0.3, 2, 0.3],
    [0.1 + 0.2, 2, 0.3],
    [1234, 2, 1200],
    [100, 2, 100],
  ])('roundedDown(%d, %d) is %d', (value, digits, down) => expect(roundedDown(value, digits)).toBe(down));

  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e21, -1e300])(
    '%d is refused',
    (value) => {
      expect(() => fixed(value, 3)).toThrow(RangeError);
      expect(() => trimmed(value, 3)).toThrow(RangeError);
    },
  );

  test('neither has an exponent or a minus without a digit, and both read back', () => {
    const value = fc.double({ min: -1e20, max: 1e20, noNaN: true });
    fc.assert(
      fc.property(value, fc.integer({ min: 0, max: 12 }), (given, digits) => {
        for (const text of [fixed(given, digits), trimmed(given, digits)]) {
          expect(text).toMatch(/^(?!-0(\.0*)?$)-?\d+(\.\d+)?$/);
          const rounding = 0.5001 * 10 ** -digits + Math.abs(given) * Number.EPSILON;
          expect(Math.abs(Number(text) - given)).toBeLessThanOrEqual(rounding);
        }
      }),
    );
  });
});
