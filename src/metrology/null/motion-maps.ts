/**
 * What a small rigid motion of the part or of the hologram does to the measured figure of the surface under test (motion-heights.ts), and what
 * of it is left when the evaluation has removed its terms. Maps are weighted by area on the surface and fitted by least squares. mm of height.
 */
import { leastSquaresOf } from '../../algebra/least-squares.ts';
import { foldRow } from '../../algebra/triangular-factors.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { zernikeCount, zernikePolynomials } from '../../optics/zernike.ts';
import { DEGREES, type Degree, type RemovedTerm } from '../../scenario/scenario.ts';
import { hologramHeights } from '../sensing/motion-heights.ts';
import { type SurfaceHeights, surfaceHeights } from '../sensing/surface-heights.ts';

export interface MotionMap {
  readonly of: 'part' | 'hologram';
  /** Of the part in the part frame, about its origin; of the hologram in the substrate frame, about its. */
  readonly degree: Degree;
  /** Root mean square of the height, mm for 1 mm or 1 rad of motion; `left` less what the evaluation removes. */
  readonly raw: number;
  readonly left: number;
  /** Of the height over the aperture's area. */
  readonly mean: number;
  /** Its Zernike terms by ISO 24157 up to radial order 4, j = 0 … 14, in the same unit. */
  readonly terms: Float64Array;
  /** What the evaluation takes out, as terms in the same order: 0 for those that it leaves. */
  readonly taken: Float64Array;
  /** What is left, as of `leftOf`: at each point of the aperture, for 1 mm or 1 rad. */
  readonly column: Float64Array;
}

export interface MotionMaps {
  /** Of the part. */
  readonly maps: readonly MotionMap[];
  readonly hologram: readonly MotionMap[];
  /** R, 6 × 6, row-major: a motion v of the six degrees (mm, rad) leaves |R·v| mm rms; RᵀR is the Gram matrix of what is left. */
  readonly factor: Float64Array;
  /** What the evaluation leaves of a map of heights at the aperture's points, each times the root of its weight. */
  readonly leftOf: (heights: Float64Array) => Float64Array;
}

/** The names of an evaluation as indices j of ISO 24157: power is defocus Z_2^0, astigmatism Z_2^±2, coma Z_3^±1, spherical Z_4^0. */
const INDICES: Readonly<Record<RemovedTerm, readonly number[]>> = {
  piston: [0],
  tilt: [1, 2],
  power: [4],
  astigmatism: [3, 5],
  coma: [7, 8],
  spherical: [12],
};
/** Of the terms. */
export const TERMS_ORDER = 4;

/** Undefined where the scenario names no surface under test. */
export function motionMaps(design: Design): MotionMaps | undefined {
  const { main } = design;
  const heights = surfaceHeights(design);
  if (main === undefined || heights === undefined) return undefined;
  const known = found.get(main);
  if (known !== undefined) return known;
  const made = mapsOf(design, main, heights);
  found.set(main, made);
  return made;
}

const found = new WeakMap<MainPattern, MotionMaps>();

function mapsOf(design: Design, { test }: MainPattern, heights: SurfaceHeights): MotionMaps {
  const { points, footings, roots, byDegree } = heights;
  const { xs, ys, centre, radius } = points;
  const count = zernikeCount(TERMS_ORDER);
  const terms = new Float64Array(xs.length * count);
  xs.forEach((x, k) => {
    const [u, v] = [(x - centre[0]) / radius, (ys[k]! - centre[1]) / radius];
    terms.set(zernikePolynomials(u, v, TERMS_ORDER), k * count);
  });
  const removed = test.removed.flatMap((name) => INDICES[name]).filter((j, k, all) => all.indexOf(j) === k);
  // The same points for every map: each matrix is factorised once.
  const takenOut =
    removed.length === 0
      ? undefined
      : leastSquaresOf(columnsOf(terms, count, removed), removed.length, xs.length, { weights: roots });
  let inTerms: ReturnType<typeof leastSquaresOf> | undefined;
  const termsOf = (map: Float64Array): Float64Array => {
    inTerms ??= leastSquaresOf(terms, count, xs.length, { weights: roots });
    return inTerms(map).solution;
  };
  /** What a map leaves, and what is taken out of it as terms. */
  const evaluated = (map: Float64Array): { readonly rest: Float64Array; readonly taken: Float64Array } => {
    const out = new Float64Array(count);
    if (takenOut === undefined) return { rest: map, taken: out };
    const { solution, residuals } = takenOut(map);
    solution.forEach((term, k) => {
      out[removed[k]!] = term;
    });
    return { rest: residuals, taken: out };
  };
  const rooted = (map: Float64Array): Float64Array => map.map((height, k) => roots[k]! * height);
  const mapOf = (of: MotionMap['of'], degree: Degree, map: Float64Array): MotionMap => {
    const { rest, taken } = evaluated(map);
    const column = rooted(rest);
    let asTerms: Float64Array | undefined;
    return {
      of,
      degree,
      raw: norm(rooted(map)),
      left: norm(column),
      mean: map.reduce((sum, height, k) => sum + roots[k]! ** 2 * height, 0),
      /** Fitted when first asked for, by a report. */
      get terms() {
        asTerms ??= termsOf(map);
        return asTerms;
      },
      taken,
      column,
    };
  };
  const hologramMaps = (): readonly MotionMap[] => {
    const rows = footings.map((footing) => hologramHeights(design, footing));
    return DEGREES.map((degree, k) =>
      mapOf(
        'hologram',
        degree,
        Float64Array.from(rows, (row) => row[k]!),
      ),
    );
  };
  let hologram: readonly MotionMap[] | undefined;
  const maps = DEGREES.map((degree, k) => mapOf('part', degree, byDegree[k]!));
  return {
    maps,
    /** Made when first asked for: reports show them, nothing else depends on them. */
    get hologram() {
      hologram ??= hologramMaps();
      return hologram;
    },
    factor: factorOf(maps.map(({ column }) => column)),
    leftOf: (map) => rooted(evaluated(map).rest),
  };
}

/** R of columns that are given one after the other: row-major, as many rows as columns, RᵀR their Gram matrix. */
export function factorOf(columns: readonly Float64Array[]): Float64Array {
  const factor = new Float64Array(columns.length * columns.length);
  columns[0]!.forEach((_, k) => {
    foldRow(
      factor,
      columns.length,
      Float64Array.from(columns, (column) => column[k]!),
    );
  });
  return factor;
}

const columnsOf = (rows: Float64Array, count: number, columns: readonly number[]): Float64Array =>
  Float64Array.from({ length: (rows.length / count) * columns.length }, (_, at) => {
    const row = Math.floor(at / columns.length);
    return rows[row * count + columns[at % columns.length]!]!;
  });

const norm = (column: Float64Array): number =>
  Math.sqrt(column.reduce((sum, entry) => sum + entry * entry, 0));

/** R·v, R upper triangular with so many columns as `v` is long. */
export const throughFactor = (factor: Float64Array, v: ArrayLike<number>): Float64Array =>
  Float64Array.from({ length: v.length }, (_, row) => {
    let sum = 0;
    for (let k = row; k < v.length; k++) sum += factor[row * v.length + k]! * v[k]!;
    return sum;
  });

/** Its length is what a motion of the six degrees leaves, mm rms. */
export const leftBy = ({ factor }: MotionMaps, motion: ArrayLike<number>): Float64Array =>
  throughFactor(factor, motion);
