/**
 * Powers that are the same to the last bit on every version of Node: V8's own `**` changed its rounding between Node 22 and 24. Squares and
 * powers of two are exact in all of them; for others src/ comes here, or multiplies.
 */

import { portableExp, portableLog } from '../algebra/portable/math.ts';

/** A power of ten with an integer exponent, to the nearest number there is. */
export const powerOfTen = (exponent: number): number => Number(`1e${exponent}`);

/** Beyond this, so many factors would lose more digits than a logarithm does. */
const MOST_FACTORS = 64;

/** `base` to the power `exponent`: as `**`, but for the last digits. NaN for a negative base with an exponent that is no integer. */
export function raised(base: number, exponent: number): number {
  const whole = Math.trunc(exponent);
  const rest = exponent - whole;
  if (!(Math.abs(whole) <= MOST_FACTORS)) return farPower(base, exponent);
  const factors = whole < 0 ? 1 / product(base, -whole) : product(base, whole);
  if (rest === 0) return factors;
  if (base < 0) return Number.NaN;
  if (base === 0) return exponent > 0 ? 0 : Number.POSITIVE_INFINITY;
  return factors * (rest === 0.5 ? Math.sqrt(base) : portableExp(rest * portableLog(base)));
}

function product(base: number, count: number): number {
  let [result, square] = [1, base];
  for (let left = count; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) result *= square;
    square *= square;
  }
  return result;
}

function farPower(base: number, exponent: number): number {
  const size = portableExp(exponent * portableLog(Math.abs(base)));
  if (base >= 0) return size;
  if (!Number.isInteger(exponent)) return Number.NaN;
  return exponent % 2 === 0 ? size : -size;
}
