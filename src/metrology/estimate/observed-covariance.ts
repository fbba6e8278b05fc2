/** A covariance with null where an unknown is not observed, and zeros where rounding left next to nothing. */

/** Correlations below this, and components of unit vectors, are rounding. */
const ROUNDING = 1e-9;

export function observedCovariance(
  observed: readonly boolean[],
  entry: (i: number, j: number) => number,
): readonly (readonly (number | null)[])[] {
  return observed.map((seen, i) =>
    observed.map((also, j) => {
      if (!seen || !also) return null;
      const correlated = Math.abs(entry(i, j)) > ROUNDING * Math.sqrt(entry(i, i) * entry(j, j));
      return i === j || correlated ? entry(i, j) : 0;
    }),
  );
}

/** A component of a unit vector without rounding's remains or a sign on its zero. */
export const clean = (component: number): number => (Math.abs(component) < ROUNDING ? 0 : component);
