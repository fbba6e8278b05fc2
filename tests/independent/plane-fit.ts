/** Smooth functions over a patch as polynomials in x and y, by least squares through traced values. mm. Shares no code with src/. */
import { solved } from './equations.ts';
import type { Point } from './outline-points.ts';

export type Smooth = (x: number, y: number) => number;

export interface PlaneFit {
  readonly at: Smooth;
  /** Largest error at the values that it is drawn through. */
  readonly worst: number;
}

interface Frame {
  readonly centre: Point;
  /** Lengths are taken in units of it. */
  readonly reach: number;
  /** Total. */
  readonly degree: number;
}

/** Through each list of values at the same places. */
export function planeFits(
  places: readonly Point[],
  lists: readonly (readonly number[])[],
  { centre, reach, degree }: Frame,
): readonly PlaneFit[] {
  const [x0, y0] = centre;
  const terms = ((degree + 1) * (degree + 2)) / 2;
  const row = new Float64Array(terms);
  const normal = Array.from({ length: terms }, () => new Float64Array(terms));
  const right = Array.from({ length: terms }, () => new Float64Array(lists.length));
  places.forEach(([x, y], n) => {
    fillPowers(row, (x - x0) / reach, (y - y0) / reach, degree);
    for (let i = 0; i < terms; i++) {
      for (let k = 0; k < terms; k++) normal[i]![k]! += row[i]! * row[k]!;
      for (let l = 0; l < lists.length; l++) right[i]![l]! += row[i]! * lists[l]![n]!;
    }
  });
  const found = solved(
    normal.map((each) => [...each]),
    right.map((each) => [...each]),
  );
  return lists.map((values, l) => {
    const by = Float64Array.from(found, (coefficients) => coefficients[l]!);
    const at = (x: number, y: number): number => horner(by, degree, (x - x0) / reach, (y - y0) / reach);
    return { at, worst: Math.max(...places.map(([x, y], k) => Math.abs(at(x, y) - values[k]!))) };
  });
}

/** Horner's rule in u, whose coefficients are polynomials in v that stand one after the other. */
function horner(by: Float64Array, degree: number, u: number, v: number): number {
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
}

/** u^i v^k, all k of one i together. */
function fillPowers(row: Float64Array, u: number, v: number, degree: number): void {
  let at = 0;
  for (let i = 0, ui = 1; i <= degree; i++, ui *= u)
    for (let k = 0, vk = ui; k <= degree - i; k++, vk *= v) row[at++] = vk;
}
