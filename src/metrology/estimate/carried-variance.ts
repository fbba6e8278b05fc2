/**
 * What errors make of unknowns that are found from readings by given gains, whichever errors the gains were chosen for: JCGM 100, 5.1,
 * every reading and every source a quantity of its own. Units of the unknowns, squared.
 */
import { type ErrorSource, isFelt } from '../budget/error-source.ts';

/** `gains`: n × m row-major, an unknown for each mm of a reading; `u`: of each reading by itself, mm. The variance of each unknown. */
export function carriedVariance(
  gains: Float64Array,
  u: Float64Array,
  sources: readonly ErrorSource[],
): Float64Array {
  const m = u.length;
  const n = m === 0 ? 0 : gains.length / m;
  const felt = sources.filter(isFelt);
  return Float64Array.from({ length: n }, (_, k) => {
    const gain = (reading: number): number => gains[k * m + reading]!;
    const own = u.reduce((sum, size, reading) => sum + (gain(reading) * size) ** 2, 0);
    return felt.reduce((sum, { u: size, effects }) => {
      const share = effects.at.reduce((all, reading, e) => all + gain(reading) * effects.by[e]!, 0);
      return sum + (share * size) ** 2;
    }, own);
  });
}
