/**
 * Numbers and texts as files carry them: fixed digits, a decimal point, no exponent, no -0.
 */
import { powerOfTen } from './power.ts';

/** From here on JavaScript's toFixed falls back to exponent notation. */
const FIXED_NOTATION_LIMIT = 1e21;

/**
 * `value` with exactly `digits` decimals, never `-0.00`, never an exponent.
 * Throws a RangeError for a value that is not finite or whose magnitude is 1e21 or more.
 */
export function fixed(value: number, digits: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`expected a finite number to write, got ${value}`);
  if (Math.abs(value) >= FIXED_NOTATION_LIMIT) {
    throw new RangeError(`expected a number below 1e21 in magnitude to write, got ${value}`);
  }
  const text = value.toFixed(digits);
  return text.startsWith('-') && !/[1-9]/.test(text) ? text.slice(1) : text;
}

/** As `fixed`, with at most `maxDigits` decimals: trailing zeros, and a point without decimals, are dropped. */
export function trimmed(value: number, maxDigits: number): string {
  const text = fixed(value, maxDigits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** The largest number of so many significant digits that is no larger than a positive `value`, rounding errors aside. */
export function roundedDown(value: number, digits: number): number {
  const step = powerOfTen(Math.floor(Math.log10(value)) + 1 - digits);
  return Number((Math.floor(value / step + ROUNDING) * step).toPrecision(digits));
}

/** Of a count of steps: 3 / 0.1 is 30. */
const ROUNDING = 1e-9;
