/**
 * The Monte Carlo side of a budget (JCGM 101:2008): every reading and every source of error drawn from its own distribution,
 * sent through the estimate, and the spread of what comes out beside the linear one. Seeded: the same figures every time.
 */
import { randomFrom } from '../algebra/random.ts';
import type { ErrorSource } from './error-source.ts';
import { isFelt } from './error-source.ts';
import { draw, type Propagated, summarise } from './monte-carlo.ts';

export interface SpreadProblem {
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
const RECTANGULAR_REACH = Math.sqrt(3);

/** For each of the n unknowns. */
export function simulatedSpread(problem: SpreadProblem): readonly Propagated[] {
  const { gains, u, trials } = problem;
  const m = u.length;
  const n = m > 0 ? gains.length / m : (problem.free[0]?.length ?? 0);
  const causes = causesOf(problem, n);
  const random = randomFrom(problem.seed);
  const outputs = Array.from({ length: n }, () => new Float64Array(trials));
  for (let trial = 0; trial < trials; trial++) {
    for (const { rectangular, share } of causes) {
      const deviate = rectangular
        ? draw({ kind: 'rectangular', mean: 0, halfWidth: RECTANGULAR_REACH }, random)
        : random.normal();
      for (let k = 0; k < n; k++) outputs[k]![trial]! += share[k]! * deviate;
    }
  }
  return outputs.map((values) => summarise(values, 0.95));
}

/** What one standard deviate of each cause does to the unknowns. */
function causesOf(
  { gains, u, sources, free, reach }: SpreadProblem,
  n: number,
): readonly { readonly rectangular: boolean; readonly share: Float64Array }[] {
  const m = u.length;
  const through = (effect: (reading: number) => number): Float64Array =>
    Float64Array.from({ length: n }, (_, k) => {
      let sum = 0;
      for (let reading = 0; reading < m; reading++) sum += gains[k * m + reading]! * effect(reading);
      return sum;
    });
  const causes = [
    ...Array.from(u, (size, at) => ({ rectangular: false, share: through((k) => (k === at ? size : 0)) })),
    ...sources.filter(isFelt).map(({ distribution, u: size, effects }) => {
      return { rectangular: distribution === 'rectangular', share: through((k) => effects[k]! * size) };
    }),
    ...free.map((motion) => {
      return { rectangular: true, share: motion.map((part) => (part * reach) / RECTANGULAR_REACH) };
    }),
  ];
  const variance = (k: number): number => causes.reduce((sum, { share }) => sum + share[k]! * share[k]!, 0);
  const least = Array.from({ length: n }, (_, k) => NEGLIGIBLE * variance(k));
  return causes.filter(({ share }) => share.some((part, k) => part * part > least[k]!));
}
