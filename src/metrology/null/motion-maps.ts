/**
 * What a small rigid motion of the part (T, θ about its origin, part frame) does to the measured figure of the surface under test: at X the
 * height changes by h(X) = n·(T + θ × X), n the normal toward the hologram, and the wavefront by 2h. Kinematics of a rigid body; the same
 * as first differences of traced wavefronts. Maps are weighted by area on the surface and fitted by least squares.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { foldRow } from '../../algebra/triangular-factors.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { placeFromParent, rotateBack } from '../../geometry/frame.ts';
import { cross } from '../../geometry/vector.ts';
import { zernikeCount, zernikePolynomials } from '../../optics/zernike.ts';
import { DEGREES, type Degree, type RemovedTerm } from '../../scenario/scenario.ts';
import { beamChanges, beamSource } from '../budget/hologram-alignment.ts';
import { aperturePoints } from './aperture-points.ts';

interface MotionMap {
  readonly degree: Degree;
  /** Root mean square of the height, mm for 1 mm or 1 rad of motion; `left` less what the evaluation removes. */
  readonly raw: number;
  readonly left: number;
  /** Its Zernike terms by ISO 24157 up to radial order 4, j = 0 … 14, in the same unit. */
  readonly terms: Float64Array;
}

export interface MotionMaps {
  readonly maps: readonly MotionMap[];
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
const MOST_ORDER = 4;

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
  const partFrame = design.scenario.part.frame;
  const changes = beamChanges(design);
  const { xs, ys, weights, centre, radius } = aperturePoints(test.aperture);
  const toHeight = surface.frame.rotation.map((row) => row[2]);
  const count = zernikeCount(MOST_ORDER);
  const roots = new Float64Array(xs.length);
  const terms = new Float64Array(xs.length * count);
  const heights = DEGREES.map(() => new Float64Array(xs.length));
  const waves = changes.map(() => new Float64Array(xs.length));
  for (let k = 0; k < xs.length; k++) {
    const footing = normals.from(xs[k]!, ys[k]!);
    if (footing === undefined)
      throw new Error(`no normal at x ${xs[k]}, y ${ys[k]} of the surface under test`);
    const { foot, normal, at } = footing;
    // dA on the surface = dx dy over the cosine between its normal and its axis.
    const cosine = Math.abs(normal.reduce((sum, part, axis) => sum + part * toHeight[axis]!, 0));
    roots[k] = weights[k]! / cosine;
    const n = rotateBack(partFrame.rotation, normal);
    const lever = cross(placeFromParent(partFrame, foot), n);
    [...n, ...lever].forEach((height, degree) => {
      heights[degree]![k] = height;
    });
    // The surface of a null lies where the wave that leaves has run as long as everywhere: ΔE toward the hologram.
    changes.forEach(({ change }, beam) => {
      waves[beam]![k] = change(...at);
    });
    const [u, v] = [(xs[k]! - centre[0]) / radius, (ys[k]! - centre[1]) / radius];
    terms.set(zernikePolynomials(u, v, MOST_ORDER), k * count);
  }
  const whole = roots.reduce((sum, weight) => sum + weight, 0);
  roots.forEach((weight, k) => {
    roots[k] = Math.sqrt(weight / whole);
  });
  const removed = test.removed.flatMap((name) => INDICES[name]).filter((j, k, all) => all.indexOf(j) === k);
  const taken = columnsOf(terms, count, removed);
  const evaluated = (map: Float64Array): Float64Array =>
    removed.length === 0 ? map : solveLeastSquares(taken, removed.length, map, { weights: roots }).residuals;
  const left = heights.map(evaluated);
  const nulls = waves.map((wave) => bestNull(heights, wave, roots));
  const all = [...left, ...nulls.map(({ rest }) => evaluated(rest))];
  const factor = new Float64Array(all.length * all.length);
  roots.forEach((root, k) => {
    foldRow(
      factor,
      all.length,
      Float64Array.from(all, (map) => root * map[k]!),
    );
  });
  return {
    maps: DEGREES.map((degree, k) => {
      return {
        degree,
        raw: rms(heights[k]!, roots),
        left: rms(left[k]!, roots),
        terms: solveLeastSquares(terms, count, heights[k]!, { weights: roots }).solution,
      };
    }),
    beams: nulls.map(({ move }, k) => {
      return { source: beamSource(changes[k]!.name), move };
    }),
    factor,
    columns: all.length,
  };
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
