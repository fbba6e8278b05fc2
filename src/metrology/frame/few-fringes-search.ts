/**
 * Where a fit of two tilts and a power starts when the picture has few fringes: there a background of second degree and the fringes explain
 * each other in part, and a transform of what the background leaves has its peaks in wrong places. Each place of a grid is scored by what
 * a cosine and a sine explain together with the background: of parameters that enter linearly only the others are searched, the
 * variable projection of Golub & Pereyra, SIAM J. Numer. Anal. 10, 413 (1973), from memory. Fringes.
 */
import { cosineAndSine } from '../../algebra/turns.ts';
import type { Candidate, SearchPixels } from './carrier-search.ts';
import { someOf } from './seen-pixels.ts';

/** The place of a pixel in the patch's own coordinates, both some ±1. */
interface Placed {
  readonly u: Float64Array;
  readonly v: Float64Array;
}

/** Fringes from the design place that are tried, each way, and their step; of power fewer. */
const TILTS = [-1.8, -1.35, -0.9, -0.45, 0, 0.45, 0.9, 1.35, 1.8];
const POWERS = [-1.2, -0.6, 0, 0.6, 1.2];
/** Pixels that are looked at: a background, two tilts and a power leave most of them free. */
const LOOKED_AT = 120;
const KEPT = 6;
const BACKGROUND = 6;

/** Best first; `explained` is the part of what the background leaves of the picture. */
export function searchFew(pixels: SearchPixels & Placed): Candidate[] {
  const chosen = someOf(pixels.count, LOOKED_AT);
  const n = chosen.length;
  if (n < 3 * BACKGROUND) return [];
  const basis = backgroundBasis(pixels, chosen);
  const rest = Float64Array.from(chosen, (i) => pixels.values[i]!);
  withoutBasis(rest, basis);
  const power = dot(rest, rest);
  const [c, s, turned] = [new Float64Array(n), new Float64Array(n), new Float64Array(2)];
  const scores = new Float64Array(TILTS.length ** 2 * POWERS.length);
  const [first, second, bow] = pixels.shapes as [Float64Array, Float64Array, Float64Array];
  let at = 0;
  for (const a of TILTS)
    for (const b of TILTS)
      for (const p of POWERS) {
        for (let k = 0; k < n; k++) {
          const i = chosen[k]!;
          cosineAndSine(pixels.waves[i]! + a * first[i]! + b * second[i]! + p * bow[i]!, turned);
          c[k] = turned[0]!;
          s[k] = turned[1]!;
        }
        withoutBasis(c, basis);
        withoutBasis(s, basis);
        const [cc, ss, cs, cr, sr] = [dot(c, c), dot(s, s), dot(c, s), dot(c, rest), dot(s, rest)];
        const determinant = cc * ss - cs * cs;
        const isHeld = determinant > 1e-6 * cc * ss && Math.min(cc, ss) > 1e-6 * n;
        scores[at++] = isHeld ? (cr * cr * ss - 2 * cr * sr * cs + sr * sr * cc) / (determinant * power) : 0;
      }
  return highest(scores).map(([index, explained]) => ({ amounts: amountsAt(index, pixels), explained }));
}

function amountsAt(index: number, { shapes }: SearchPixels): number[] {
  const [powers, tilts] = [POWERS.length, TILTS.length];
  const amounts = shapes.map(() => 0);
  amounts[0] = TILTS[Math.floor(index / powers / tilts)]!;
  amounts[1] = TILTS[Math.floor(index / powers) % tilts]!;
  amounts[2] = POWERS[index % powers]!;
  return amounts;
}

/** Places of the grid that no neighbour is above. */
function highest(scores: Float64Array): (readonly [index: number, score: number])[] {
  const [powers, tilts] = [POWERS.length, TILTS.length];
  const at = (i: number, j: number, k: number): number =>
    i < 0 || j < 0 || k < 0 || i >= tilts || j >= tilts || k >= powers
      ? 0
      : scores[(i * tilts + j) * powers + k]!;
  const found: [number, number][] = [];
  for (let index = 0; index < scores.length; index++) {
    const [i, j, k] = [
      Math.floor(index / powers / tilts),
      Math.floor(index / powers) % tilts,
      index % powers,
    ];
    const own = scores[index]!;
    const below =
      own >= Math.max(at(i - 1, j, k), at(i + 1, j, k), at(i, j - 1, k)) &&
      own >= Math.max(at(i, j + 1, k), at(i, j, k - 1), at(i, j, k + 1));
    if (below) found.push([index, own]);
  }
  return found.sort((a, b) => b[1] - a[1]).slice(0, KEPT);
}

/** Orthonormal columns of 1, u, v, u², uv, v² at the pixels chosen, by Gram and Schmidt, twice for each. */
function backgroundBasis({ u, v }: Placed, chosen: Uint32Array): readonly Float64Array[] {
  const terms = [
    () => 1,
    (p: number) => p,
    (_: number, q: number) => q,
    (p: number) => p * p,
    (p: number, q: number) => p * q,
    (_: number, q: number) => q * q,
  ];
  const basis: Float64Array[] = [];
  for (const term of terms) {
    const column = Float64Array.from(chosen, (i) => term(u[i]!, v[i]!));
    withoutBasis(column, basis);
    withoutBasis(column, basis);
    const size = Math.sqrt(dot(column, column));
    if (size > 1e-9) basis.push(column.map((each) => each / size));
  }
  return basis;
}

function withoutBasis(values: Float64Array, basis: readonly Float64Array[]): void {
  for (const column of basis) {
    const share = dot(values, column);
    for (let k = 0; k < values.length; k++) values[k]! -= share * column[k]!;
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
