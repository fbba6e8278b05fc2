/**
 * The elementary functions of JavaScript's Math, the same to the last bit in every browser and every release of Node: engines round
 * them differently, and a move along a direction that the readings hardly see multiplies the last bit by a million. What a scenario says is
 * worked out with them, so that its numbers are the same everywhere; and in the bench page they stand in the place of Math's own
 * (.build/portable-math.mjs). They take a few times as long. Errors are under 1 unit in the last place.
 */
import { engine } from './double-words.ts';

export { portableCos, portableSin, portableTan } from './angles.ts';
export { portableAcos, portableAsin, portableAtan, portableAtan2 } from './arcs.ts';
export { portableExp, portableLog, portableLog10 } from './exponentials.ts';

/** As V8 has it: scaled by the largest, summed with Kahan's compensation. */
export function portableHypot(...values: number[]): number {
  let largest = 0;
  for (const value of values) {
    if (!Number.isFinite(value)) return engine.hypot(...values);
    largest = Math.max(largest, Math.abs(value));
  }
  if (largest === 0) return 0;
  let [sum, compensation] = [0, 0];
  for (const value of values) {
    const n = Math.abs(value) / largest;
    const summand = n * n - compensation;
    const preliminary = sum + summand;
    compensation = preliminary - sum - summand;
    sum = preliminary;
  }
  return Math.sqrt(sum) * largest;
}
