/**
 * Which combinations of unknown signs agree best, among all of them: χ² = vᵀWv, linear at the design place (W as in consistency.ts), by a
 * walk that turns one sign a step (the reflected binary code of F. Gray, US patent 2632058, 1953), so that a step costs a few products.
 */
import { residualWeights } from '../estimate/consistency.ts';
import { valueIf } from './steering-readings.ts';
import { fitted, type SteeringProblem, times } from './steering-solve.ts';

/** `unknown`: entries of the bench's list; the best `most` combinations, a sign for each. */
export function likeliestSigns(
  problem: SteeringProblem,
  unknown: readonly number[],
  most: number,
): readonly ReadonlyMap<number, 1 | -1>[] {
  const { readings } = problem;
  const m = readings.length;
  const weights = residualWeights(fitted(problem));
  const values = Float64Array.from(readings, ({ value }) => value);
  const weighted = times(weights, m, values);
  const rowsOf = unknown.map((entry) => readings.flatMap((one, k) => (one.entry === entry ? [k] : [])));
  let chiSquared = values.reduce((sum, value, k) => sum + value * weighted[k]!, 0);
  let [bits, kept] = [0, [{ bits: 0, chiSquared }]];
  let bound = Number.POSITIVE_INFINITY;
  for (let step = 1; step < 2 ** unknown.length; step++) {
    const turned = 31 - Math.clz32(step & -step);
    bits ^= 1 << turned;
    const rows = rowsOf[turned]!;
    const sign = (bits >> turned) & 1 ? -1 : 1;
    for (const i of rows) {
      const change = valueIf(readings[i]!, sign) - values[i]!;
      chiSquared += 2 * change * weighted[i]! + change * change * weights[i * m + i]!;
      for (let k = 0; k < m; k++) weighted[k]! += weights[k * m + i]! * change;
      values[i]! += change;
    }
    if (chiSquared >= bound) continue;
    kept.push({ bits, chiSquared });
    if (kept.length < 2 * most) continue;
    kept = kept.toSorted((a, b) => a.chiSquared - b.chiSquared).slice(0, most);
    bound = kept.at(-1)!.chiSquared;
  }
  return kept
    .toSorted((a, b) => a.chiSquared - b.chiSquared || a.bits - b.bits)
    .slice(0, most)
    .map(({ bits: taken }) => new Map(unknown.map((entry, bit) => [entry, (taken >> bit) & 1 ? -1 : 1])));
}
