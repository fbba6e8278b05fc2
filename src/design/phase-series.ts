/**
 * Whether a polynomial holds a phase, told from its Chebyshev series over the rectangle around the outline, without fitting one: where the
 * phase is analytic its coefficients fall like a geometric series, and what a polynomial of the lower terms misses is no more than the sum
 * of the others. Coefficients from the values at the Chebyshev points: L. N. Trefethen, *Approximation Theory and Approximation Practice*,
 * SIAM 2013, ch. 3, 4 and 8. Waves at order 1.
 */
import { boundsOf } from '../geometry/extent.ts';
import type { Outline } from '../geometry/outline.ts';
import { boundaryPoints, joined, latticePoints, type Points } from '../geometry/sampling.ts';
import type { Pattern } from './pattern.ts';

/** Chebyshev points along each side. */
const NODES = 13;
/** Of the lower terms, by total degree: two below the highest that the points tell apart, so that a slow fall shows. */
const LOWER = 10;
/**
 * Of the bound, the most that the higher terms come to. A least-squares fit misses the phase by more than the best polynomial does, but
 * not a hundred times: it has three points a term.
 */
const SHARE = 0.01;
/** The series is compared with the phase at so many places, inside and along the edge. */
const INSIDE = 60;
const ALONG_EDGE = 30;

/**
 * True where polynomials hold the phase to much better than `bound`, waves. False says nothing: the phase may be held all the same.
 * A phase with features narrower than a tenth of the outline may pass unseen: not for a surface made of pieces.
 */
export function isSurelyHeld(pattern: Pattern, bound: number): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(pattern.outline);
  const place = (k: number, least: number, most: number): number =>
    (least + most) / 2 + ((most - least) / 2) * COSINES[NODES + k]!;
  const xs = Float64Array.from({ length: NODES * NODES }, (_, at) => place(at % NODES, minX, maxX));
  const ys = Float64Array.from({ length: NODES * NODES }, (_, at) =>
    place(Math.floor(at / NODES), minY, maxY),
  );
  const series = transformed(transformed(pattern.phase.phases(xs, ys)));
  let higher = 0;
  for (let i = 0; i < NODES; i++)
    for (let j = 0; j < NODES; j++) if (i + j > LOWER) higher += Math.abs(series[i * NODES + j]!);
  if (!(higher <= SHARE * bound)) return false;
  const places = joined(latticePoints(pattern.outline, INSIDE), alongEdge(pattern.outline));
  const phases = pattern.phase.phases(places.xs, places.ys);
  const [middleX, middleY] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const [halfX, halfY] = [(maxX - minX) / 2, (maxY - minY) / 2];
  return phases.every((phase, k) => {
    const sum = sumAt(series, (places.xs[k]! - middleX) / halfX, (places.ys[k]! - middleY) / halfY);
    return Math.abs(phase - sum) <= SHARE * bound;
  });
}

/** A polygon's corners alone are more than is asked for: some of them, evenly. */
function alongEdge(outline: Outline): Points {
  const { xs, ys } = boundaryPoints(outline, ALONG_EDGE);
  const every = Math.ceil(xs.length / (2 * ALONG_EDGE));
  const taken = (_: number, k: number): boolean => k % every === 0;
  return { xs: xs.filter(taken), ys: ys.filter(taken) };
}

/** T_n at the Chebyshev point k: cos(nπ(k + ½)/N), by n and k. */
const COSINES = Float64Array.from({ length: NODES * NODES }, (_, at) =>
  Math.cos((Math.floor(at / NODES) * Math.PI * ((at % NODES) + 1 / 2)) / NODES),
);

/** The series along the rows' direction of a square of values, turned over: twice gives the series along both, a row for each degree in y. */
function transformed(values: Float64Array): Float64Array {
  const out = new Float64Array(NODES * NODES);
  for (let row = 0; row < NODES; row++)
    for (let n = 0; n < NODES; n++) {
      let sum = 0;
      for (let k = 0; k < NODES; k++) sum += values[row * NODES + k]! * COSINES[n * NODES + k]!;
      out[n * NODES + row] = ((n === 0 ? 1 : 2) * sum) / NODES;
    }
  return out;
}

/** The lower terms' sum at u and v, −1 to 1 across the rectangle. */
function sumAt(series: Float64Array, u: number, v: number): number {
  const [across, up] = [chebyshev(u), chebyshev(v)];
  let sum = 0;
  for (let i = 0; i <= LOWER; i++)
    for (let j = 0; i + j <= LOWER; j++) sum += series[j * NODES + i]! * across[i]! * up[j]!;
  return sum;
}

/** T_0 … of a value. */
function chebyshev(value: number): Float64Array {
  const out = new Float64Array(LOWER + 1);
  out[0] = 1;
  out[1] = value;
  for (let n = 2; n <= LOWER; n++) out[n] = 2 * value * out[n - 1]! - out[n - 2]!;
  return out;
}
