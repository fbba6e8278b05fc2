/**
 * Seeded random numbers that are the same on every machine: PCG32 (M. E. O'Neill, "PCG: a family of simple fast
 * space-efficient statistically good algorithms for random number generation", Harvey Mudd College, HMC-CS-2014-0905),
 * seeded from a text by FNV-1a. Normal deviates by the polar method of G. Marsaglia, SIAM Rev. 6, 260 (1964).
 */

export interface Random {
  /** A whole number from 0 to 2³² − 1. */
  word(): number;
  /** In the open interval (0, 1), 53 bits. */
  uniform(): number;
  /** Mean 0, standard deviation 1. */
  normal(): number;
}

const MULTIPLIER = 6364136223846793005n;
const MASK = (1n << 64n) - 1n;

/** A generator for a seed: a text, such as `pose`, or the text of a scenario's name and a count. */
export function randomFrom(seed: string): Random {
  const hash = fnv1a(seed);
  return pcg32(hash, hash >> 1n);
}

/** PCG-XSH-RR 64/32 from its initial state and stream, as in its author's `pcg32_srandom`. */
export function pcg32(initialState: bigint, stream: bigint): Random {
  // 64-bit state and increment as two halves of 32 bits; products by 16-bit limbs keep every sum below 2⁵³.
  const increment = ((stream << 1n) | 1n) & MASK;
  const seeded = (((increment + initialState) & MASK) * MULTIPLIER + increment) & MASK;
  let high = Number(seeded >> 32n) >>> 0;
  let low = Number(seeded & 0xffffffffn) >>> 0;
  const multiplierHigh = Number(MULTIPLIER >> 32n) | 0;
  const multiplierLow = Number(MULTIPLIER & 0xffffffffn);
  const incrementHigh = Number(increment >> 32n) | 0;
  const incrementLow = Number(increment & 0xffffffffn);

  const step = (): void => {
    const limbLow = multiplierLow & 0xffff;
    const limbHigh = multiplierLow >>> 16;
    const crossLow = low * limbLow;
    const crossHigh = low * limbHigh;
    const middle = crossHigh + Math.floor(crossLow / 65536);
    const productLow = ((middle & 0xffff) << 16) | (crossLow & 0xffff);
    const carry = Math.floor(middle / 65536);
    const sum = (productLow >>> 0) + incrementLow;
    high =
      (Math.imul(high, multiplierLow) +
        Math.imul(low, multiplierHigh) +
        carry +
        incrementHigh +
        (sum > 0xffffffff ? 1 : 0)) >>>
      0;
    low = sum >>> 0;
  };

  const word = (): number => {
    const shiftedLow = ((low >>> 18) | (high << 14)) ^ low;
    const shiftedHigh = (high >>> 18) ^ high;
    const mixed = ((shiftedLow >>> 27) | (shiftedHigh << 5)) >>> 0;
    const turn = high >>> 27;
    step();
    return ((mixed >>> turn) | (mixed << (-turn & 31))) >>> 0;
  };

  const uniform = (): number => ((word() >>> 5) * 67108864 + (word() >>> 6) + 0.5) / 9007199254740992;

  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square < 1 && square > 0) {
        const factor = Math.sqrt((-2 * Math.log(square)) / square);
        spare = y * factor;
        return x * factor;
      }
    }
  };

  return { word, uniform, normal };
}

/** 64-bit FNV-1a of the text's UTF-8 bytes (G. Fowler, L. C. Noll, K.-P. Vo). */
function fnv1a(text: string): bigint {
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(text)) {
    hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & MASK;
  }
  return hash;
}
