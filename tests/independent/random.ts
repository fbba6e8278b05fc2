/** Seeded random numbers that share nothing with src/: mulberry32 (public domain) and G. E. P. Box, M. E. Muller, 1958, for normal ones. */
export function deviates(seed: number): { readonly uniform: () => number; readonly normal: () => number } {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  };
  return { uniform, normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()) };
}

export const normalDeviates = (seed: number): (() => number) => deviates(seed).normal;
