/** A smooth function over a patch as a polynomial in x and y, by least squares through traced values. mm. Shares no code with src/. */
import { fitted } from './equations.ts';
import type { Point } from './outline-points.ts';

export type Smooth = (x: number, y: number) => number;

export interface PlaneFit {
  readonly at: Smooth;
  /** Largest error at the values that it is drawn through. */
  readonly worst: number;
}

/** Of total degree `degree`, about `centre`, in lengths of `reach`. */
export function planeFit(
  places: readonly Point[],
  values: readonly number[],
  { centre, reach, degree }: { readonly centre: Point; readonly reach: number; readonly degree: number },
): PlaneFit {
  const [x0, y0] = centre;
  const rows = places.map(([x, y]) => powers((x - x0) / reach, (y - y0) / reach, degree));
  const by = Float64Array.from(fitted(rows, values));
  const at = (x: number, y: number): number => {
    const [u, v] = [(x - x0) / reach, (y - y0) / reach];
    // By Horner's rule in u, whose coefficients are polynomials in v that stand one after the other.
    let sum = 0;
    let end = by.length;
    for (let i = degree; i >= 0; i--) {
      const start = end - (degree - i + 1);
      let inner = 0;
      for (let k = end - 1; k >= start; k--) inner = inner * v + by[k]!;
      sum = sum * u + inner;
      end = start;
    }
    return sum;
  };
  const worst = Math.max(...places.map(([x, y], k) => Math.abs(at(x, y) - values[k]!)));
  return { at, worst };
}

/** u^i v^k, all k of one i together. */
function powers(u: number, v: number, degree: number): number[] {
  const found: number[] = [];
  for (let i = 0; i <= degree; i++) for (let k = 0; k <= degree - i; k++) found.push(u ** i * v ** k);
  return found;
}
