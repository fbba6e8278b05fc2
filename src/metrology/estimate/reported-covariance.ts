/** A covariance as a report has it: in its units, null where not observed, rounding's remains taken for the zeros they are. */

/** Correlations below this, and components of unit vectors, are rounding. */
const ROUNDING = 1e-9;

/** `entry(i, j)` in internal units, `scales` from those to the reported ones. */
export function reportedCovariance(
  observed: readonly boolean[],
  entry: (i: number, j: number) => number,
  scales: readonly number[],
): readonly (readonly (number | null)[])[] {
  return observed.map((seen, i) =>
    observed.map((also, j) => {
      if (!seen || !also) return null;
      const correlated = Math.abs(entry(i, j)) > ROUNDING * Math.sqrt(entry(i, i) * entry(j, j));
      return i === j || correlated ? entry(i, j) * scales[i]! * scales[j]! : 0;
    }),
  );
}

/** A component of a unit vector without rounding's remains or a sign on its zero. */
export const clean = (component: number): number => (Math.abs(component) < ROUNDING ? 0 : component);
