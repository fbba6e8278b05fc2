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
  // 64-bit state and increment as two halves of 32 bits, signed, which V8 holds without a box; products by 16-bit limbs.
  const increment = ((stream << 1n) | 1n) & MASK;
  const seeded = (((increment + initialState) & MASK) * MULTIPLIER + increment) & MASK;
  const state = Int32Array.of(highHalf(seeded), lowHalf(seeded));
  const incrementHigh = highHalf(increment);
  const incrementLow = lowHalf(increment);
  const multiplierHigh = highHalf(MULTIPLIER);
  const multiplierLow = lowHalf(MULTIPLIER);
  const limbLow = multiplierLow & 0xffff;
  const limbHigh = multiplierLow >>> 16;

  const word = (): number => {
    const high = state[0]!;
    const low = state[1]!;
    // The low half of the product, and what it carries into the high one.
    const lowest = Math.imul(low & 0xffff, limbLow);
    const crossLow = Math.imul(low & 0xffff, limbHigh);
    const crossHigh = Math.imul(low >>> 16, limbLow);
    const middle = (lowest >>> 16) + (crossLow & 0xffff) + (crossHigh & 0xffff);
    const carry = Math.imul(low >>> 16, limbHigh) + (crossLow >>> 16) + (crossHigh >>> 16) + (middle >>> 16);
    const product = (middle << 16) | (lowest & 0xffff);
    const sum = (product + incrementLow) | 0;
    const overflow = ((product & incrementLow) | ((product | incrementLow) & ~sum)) >>> 31;
    state[0] =
      Math.imul(high, multiplierLow) + Math.imul(low, multiplierHigh) + carry + incrementHigh + overflow;
    state[1] = sum;

    const shiftedLow = ((low >>> 18) | (high << 14)) ^ low;
    const shiftedHigh = (high >>> 18) ^ high;
    const mixed = (shiftedLow >>> 27) | (shiftedHigh << 5);
    const turn = high >>> 27;
    return ((mixed >>> turn) | (mixed << (-turn & 31))) >>> 0;
  };

  const uniform = (): number => ((word() >>> 5) * 67108864 + (word() >>> 6) + 0.5) / 9007199254740992;

  /** Two deviates at once. */
  const drawn = new Float64Array(2);
  const drawTwo = (): void => {
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (!(square < 1 && square > 0)) continue;
      const factor = Math.sqrt((-2 * Math.log(square)) / square);
      drawn[0] = x * factor;
      drawn[1] = y * factor;
      return;
    }
  };
  let hasSpare = false;
  const normal = (): number => {
    hasSpare = !hasSpare;
    if (!hasSpare) return drawn[1]!;
    drawTwo();
    return drawn[0]!;
  };

  return { word, uniform, normal };
}

const highHalf = (whole: bigint): number => Number(BigInt.asIntN(32, whole >> 32n));
const lowHalf = (whole: bigint): number => Number(BigInt.asIntN(32, whole));

/** 64-bit FNV-1a of the text's UTF-8 bytes (G. Fowler, L. C. Noll, K.-P. Vo). */
function fnv1a(text: string): bigint {
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(text)) {
    hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & MASK;
  }
  return hash;
}
