/**
 * The Monte Carlo side of a budget (JCGM 101:2008): every reading and every source of error drawn from its own distribution,
 * sent through the estimate, and the spread of what comes out beside the linear one. Seeded: the same figures every time.
 */

import { type Propagated, spreadOf } from '../../algebra/monte-carlo.ts';
import { randomFrom } from '../../algebra/random.ts';
import { foldRow } from '../../algebra/triangular-factors.ts';
import type { ErrorSource } from '../budget/error-source.ts';

interface SpreadProblem {
  /** n × m row-major, the estimate of each unknown from the readings. */
  readonly gains: Float64Array;
  /** Standard uncertainty of each reading by itself (normal). */
  readonly u: Float64Array;
  readonly sources: readonly ErrorSource[];
  /** Motions that no reading sees, in the unknowns' units for 1 mm, each within ±`reach` mm (rectangular). */
  readonly free: readonly Float64Array[];
  readonly reach: number;
  readonly trials: number;
  readonly seed: string;
}

/** Trials of a report: sampling errors of 1.6 % in u. */
export const REPORT_TRIALS = 2000;

/** A cause whose variance is less than this part of every unknown's is not drawn. */
const NEGLIGIBLE = 1e-10;

/** A rectangular distribution of standard uncertainty u reaches √3 u to either side. */
export const RECTANGULAR_REACH = Math.sqrt(3);

/** For each of the n unknowns. */
export function simulatedSpread(problem: SpreadProblem): readonly Propagated[] {
  const { gains, u, trials } = problem;
  const m = u.length;
  const n = m > 0 ? gains.length / m : (problem.free[0]?.length ?? 0);
  const { rectangular, normal } = causesOf(problem, n);
  const random = randomFrom(problem.seed);
  const outputs = Array.from({ length: n }, () => new Float64Array(trials));
  const deviates = new Float64Array(trials);
  const add = (cause: Float64Array, scale: number): void =>
    cause.forEach((part, k) => {
      addScaled(outputs[k]!, deviates, part * scale);
    });
  for (const cause of rectangular) {
    for (let trial = 0; trial < trials; trial++) deviates[trial] = random.uniform() - 0.5;
    add(cause, 2 * RECTANGULAR_REACH);
  }
  for (const cause of normal) {
    for (let trial = 0; trial < trials; trial++) deviates[trial] = random.normal();
    add(cause, 1);
  }
  return outputs.map(spreadOf);
}

/**
 * What one standard deviate of each cause does to the unknowns, n numbers for each cause. The normal causes' joint effect is normal
 * itself, whatever their number, so that it is drawn as n deviates through a factor of its covariance. The covariance is not formed: it is
 * as good as singular wherever a motion is hardly seen.
 */
function causesOf(
  { gains, u, sources, free, reach }: SpreadProblem,
  n: number,
): { readonly rectangular: readonly Float64Array[]; readonly normal: readonly Float64Array[] } {
  const m = u.length;
  const rectangular: Float64Array[] = free.map((motion) =>
    motion.map((part) => (part * reach) / RECTANGULAR_REACH),
  );
  const factor = new Float64Array(n * n);
  const share = new Float64Array(n);
  for (let reading = 0; reading < m; reading++) {
    for (let k = 0; k < n; k++) share[k] = gains[k * m + reading]! * u[reading]!;
    foldRow(factor, n, share);
  }
  for (const { distribution, u: size, effects } of sources) {
    share.fill(0);
    effects.at.forEach((reading, entry) => {
      for (let k = 0; k < n; k++) share[k]! += gains[k * m + reading]! * effects.by[entry]! * size;
    });
    if (distribution === 'rectangular') rectangular.push(share.slice());
    else foldRow(factor, n, share);
  }
  const normal = Array.from({ length: n }, (_, row) => factor.slice(row * n, (row + 1) * n));
  const total = Float64Array.from({ length: n }, (_, k) =>
    [...rectangular, ...normal].reduce((sum, cause) => sum + cause[k]! * cause[k]!, 0),
  );
  const matters = (cause: Float64Array): boolean =>
    cause.some((part, k) => part * part > NEGLIGIBLE * total[k]!);
  return { rectangular: rectangular.filter(matters), normal: normal.filter(matters) };
}

function addScaled(sums: Float64Array, values: Float64Array, factor: number): void {
  for (let k = 0; k < sums.length; k++) sums[k]! += factor * values[k]!;
}
