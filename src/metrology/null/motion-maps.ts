/**
 * What a small rigid motion of the part or of the hologram does to the measured figure of the surface under test, over its aperture: the maps of
 * height (motion-heights.ts), the same as first differences of traced wavefronts. Weighted by area on the surface and fitted by least squares.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { foldRow } from '../../algebra/triangular-factors.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { placeFromParent } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { zernikeCount, zernikePolynomials } from '../../optics/zernike.ts';
import { DEGREES, type Degree, type RemovedTerm } from '../../scenario/scenario.ts';
import { beamChanges, beamSource } from '../budget/hologram-alignment.ts';
import { aperturePoints } from './aperture-points.ts';
import { hologramHeights, partHeights } from './motion-heights.ts';

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
}

export interface MotionMaps {
  /** Of the part. */
  readonly maps: readonly MotionMap[];
  readonly hologram: readonly MotionMap[];
  /** Of what is left by the part's six degrees, then the hologram's: 12 × 12, row-major, from −1 to 1; 0 where nothing is left. */
  readonly correlations: Float64Array;
  /**
   * D, 6 × 6, row-major and upper triangular: a motion v of the part (mm, rad) displaces the points of the surface by |D·v| mm rms.
   */
  readonly displacement: Float64Array;
  /** Of the circle about the aperture, mm. */
  readonly radius: number;
  /** Where the null lies for a beam out of line. */
  readonly beams: readonly BeamNull[];
  /**
   * R, `columns` × `columns`, row-major: a motion of the six degrees (mm, rad), followed by the units of each of `beams`, leaves |R·v| mm rms.
   * RᵀR is the Gram matrix of what is left; its first 6 × 6 that of the part's motions.
   */
  readonly factor: Float64Array;
  readonly columns: number;
}

interface BeamNull {
  /** Of the source of error, in the budget. */
  readonly source: string;
  /** The motion of the part to where the null is best, for one unit of the source: mm and rad. What it still leaves is the beam's column of `factor`. */
  readonly move: Float64Array;
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
  if (main === undefined) return undefined;
  const known = found.get(main);
  if (known !== undefined) return known;
  const made = mapsOf(main, design);
  found.set(main, made);
  return made;
}

const found = new WeakMap<MainPattern, MotionMaps>();

function mapsOf({ test, normals, surface }: MainPattern, design: Design): MotionMaps {
  const changes = beamChanges(design);
  const { xs, ys, weights, centre, radius } = aperturePoints(test.aperture);
  const toHeight = surface.frame.rotation.map((row) => row[2]);
  const count = zernikeCount(TERMS_ORDER);
  const roots = new Float64Array(xs.length);
  const terms = new Float64Array(xs.length * count);
  const heights = MOVED.map(() => new Float64Array(xs.length));
  const places: Vec3[] = [];
  const waves = changes.map(() => new Float64Array(xs.length));
  for (let k = 0; k < xs.length; k++) {
    const footing = normals.from(xs[k]!, ys[k]!);
    if (footing === undefined)
      throw new Error(`no normal at x ${xs[k]}, y ${ys[k]} of the surface under test`);
    const { foot, normal, at } = footing;
    // dA on the surface = dx dy over the cosine between its normal and its axis.
    const cosine = Math.abs(normal.reduce((sum, part, axis) => sum + part * toHeight[axis]!, 0));
    roots[k] = weights[k]! / cosine;
    [...partHeights(design, footing), ...hologramHeights(design, footing)].forEach((height, moved) => {
      heights[moved]![k] = height;
    });
    places.push(placeFromParent(design.scenario.part.frame, foot));
    // The surface of a null lies where the wave that leaves has run as long as everywhere: ΔE toward the hologram.
    changes.forEach(({ change }, beam) => {
      waves[beam]![k] = change(...at);
    });
    const [u, v] = [(xs[k]! - centre[0]) / radius, (ys[k]! - centre[1]) / radius];
    terms.set(zernikePolynomials(u, v, TERMS_ORDER), k * count);
  }
  const whole = roots.reduce((sum, weight) => sum + weight, 0);
  roots.forEach((weight, k) => {
    roots[k] = Math.sqrt(weight / whole);
  });
  const removed = test.removed.flatMap((name) => INDICES[name]).filter((j, k, all) => all.indexOf(j) === k);
  const taken = columnsOf(terms, count, removed);
  const evaluated = (map: Float64Array): Evaluated => {
    if (removed.length === 0) return { left: map, taken: new Float64Array(count) };
    const { solution, residuals } = solveLeastSquares(taken, removed.length, map, { weights: roots });
    const out = new Float64Array(count);
    removed.forEach((j, k) => {
      out[j] = solution[k]!;
    });
    return { left: residuals, taken: out };
  };
  const found = heights.map(evaluated);
  const part = heights.slice(0, DEGREES.length);
  const nulls = waves.map((wave) => bestNull(part, wave, roots));
  const all = [
    ...found.slice(0, DEGREES.length).map(({ left }) => left),
    ...nulls.map(({ rest }) => evaluated(rest).left),
  ];
  const maps = MOVED.map(
    ({ of, degree }, k): MotionMap => ({
      of,
      degree,
      raw: rms(heights[k]!, roots),
      left: rms(found[k]!.left, roots),
      mean: heights[k]!.reduce((sum, height, at) => sum + height * roots[at]! ** 2, 0),
      terms: solveLeastSquares(terms, count, heights[k]!, { weights: roots }).solution,
      taken: found[k]!.taken,
    }),
  );
  return {
    maps: maps.slice(0, DEGREES.length),
    hologram: maps.slice(DEGREES.length),
    correlations: correlationsOf(
      found.map(({ left }) => left),
      roots,
    ),
    displacement: displacementOf(places, roots),
    radius,
    beams: nulls.map(({ move }, k) => {
      return { source: beamSource(changes[k]!.name), move };
    }),
    factor: factorOf(all, roots),
    columns: all.length,
  };
}

interface Evaluated {
  readonly left: Float64Array;
  readonly taken: Float64Array;
}

/** Every degree that a map is made for, in the order of the maps. */
const MOVED = (['part', 'hologram'] as const).flatMap((of) => DEGREES.map((degree) => ({ of, degree })));

function factorOf(maps: readonly Float64Array[], roots: Float64Array): Float64Array {
  const factor = new Float64Array(maps.length * maps.length);
  roots.forEach((root, k) => {
    foldRow(
      factor,
      maps.length,
      Float64Array.from(maps, (map) => root * map[k]!),
    );
  });
  return factor;
}

/** A map of less, mm for 1 mm or 1 rad, is rounding: a millionth of a nanometre for 1 µm. */
export const NOTHING_LEFT = 1e-9;

function correlationsOf(left: readonly Float64Array[], roots: Float64Array): Float64Array {
  const units = left.map((map) => {
    const size = rms(map, roots);
    return map.map((value, k) => (size < NOTHING_LEFT ? 0 : (roots[k]! * value) / size));
  });
  return Float64Array.from(
    units.flatMap((one) => units.map((other) => Math.max(-1, Math.min(1, product(one, other))))),
  );
}

const product = (one: Float64Array, other: Float64Array): number =>
  one.reduce((sum, value, k) => sum + value * other[k]!, 0);

/** From T + θ × X at the places, part frame. */
function displacementOf(places: readonly Vec3[], roots: Float64Array): Float64Array {
  const factor = new Float64Array(DEGREES.length ** 2);
  places.forEach(([x, y, z], k) => {
    for (const row of [
      [1, 0, 0, 0, z, -y],
      [0, 1, 0, -z, 0, x],
      [0, 0, 1, y, -x, 0],
    ])
      foldRow(
        factor,
        DEGREES.length,
        Float64Array.from(row, (entry) => roots[k]! * entry),
      );
  });
  return factor;
}

/** The motion that a changed wave asks of the part, by least squares, and the height that is left of the wave there; piston aside. */
function bestNull(
  heights: readonly Float64Array[],
  wave: Float64Array,
  roots: Float64Array,
): { readonly move: Float64Array; readonly rest: Float64Array } {
  const rows = Float64Array.from({ length: 7 * wave.length }, (_, at) =>
    at % 7 === 6 ? 1 : heights[at % 7]![Math.floor(at / 7)]!,
  );
  const { solution, residuals } = solveLeastSquares(rows, 7, wave, {
    weights: roots,
    scaleColumns: false,
    rankTolerance: SAME_MAP,
  });
  return { move: solution.slice(0, 6), rest: residuals.map((part) => -part) };
}

/** What is left of a column against the largest is rounding: a turn about the surface's own axis, a sphere's turn beside its decentre. */
const SAME_MAP = 1e-12;

const columnsOf = (rows: Float64Array, count: number, columns: readonly number[]): Float64Array =>
  Float64Array.from({ length: (rows.length / count) * columns.length }, (_, at) => {
    const row = Math.floor(at / columns.length);
    return rows[row * count + columns[at % columns.length]!]!;
  });

/** `roots` are square roots of the weights. */
const rms = (map: Float64Array, roots: Float64Array): number =>
  Math.sqrt(map.reduce((sum, value, k) => sum + (roots[k]! * value) ** 2, 0));

/** R·v: its length is what the motion and the beams' rests leave, mm rms. What is missing at the end of `v` is 0. */
export const leftBy = ({ factor, columns }: MotionMaps, v: ArrayLike<number>): Float64Array =>
  Float64Array.from({ length: columns }, (_, row) => {
    let sum = 0;
    for (let k = row; k < Math.min(columns, v.length); k++) sum += factor[row * columns + k]! * v[k]!;
    return sum;
  });
