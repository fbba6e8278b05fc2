/** What an operator does after a trial move: he takes the reading that is nearest to what he was told to expect. Fringes. */
import type { Trial } from '../../../../src/metrology/steering/steering-signs.ts';
import type { BenchReading } from '../../../../src/scenario/bench-reading.ts';

/** `expected` is by the entries of the readings before, which are of the same patches in the same order. */
export function afterTrial(seen: readonly BenchReading[], { expected }: Trial): readonly BenchReading[] {
  return seen.map((reading, entry) => {
    const told = expected.get(entry);
    if (told === undefined || reading.kind !== 'fringes' || reading.signKnown) return reading;
    const { or = reading.fringes.map((count) => count && -count), ...rest } = reading;
    const off = (fringes: readonly (number | undefined)[]): number =>
      Math.min(
        ...[told.ifPlus, told.ifMinus].map((values) =>
          Math.hypot(...values.map((value, k) => value.fringes - (fringes[k] ?? 0))),
        ),
      );
    const fringes = off(reading.fringes) <= off(or) ? reading.fringes : or;
    return { ...rest, fringes, signKnown: true };
  });
}
