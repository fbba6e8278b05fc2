/**
 * How a patch's W would change if the map were off: by what is known of the map's errors over the picture, and by what each patch may have of its
 * own. Few ways are left of many, by their principal components: those that change W by next to nothing are no unknowns of a fit.
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { FrameMap } from '../location/frame-map.ts';
import type { PixelFields } from './pixel-fields.ts';
import { endsOf } from './seen-pixels.ts';

/** Pixels: what edges leave of a found map at best, patch by patch. */
const OWN = 0.05;
/** Slope of what is left of a map's fault, a cubic over the picture, in units of its size over half the picture's: 2 in the middle to 8 at the edge. */
const BENT = 5;
/**
 * Waves, root mean square over the patch: ways smaller than this cannot be told from what the model of W leaves, which would drive them far
 * beyond what is known of the map, and the tilt along with them.
 */
const LEAST = 2e-3;
/** From edge to edge of an even tilt over its root mean square. */
const EDGE_TO_EDGE = Math.sqrt(12);
/** Pixels of which W's changes are compared. */
const LOOKED_AT = 300;
/** 1, u, v, u², uv, v². */
const TERMS = 6;

interface MapDoubts {
  /** W's change by one standard deviation of each independent error, pixel by pixel, waves. */
  readonly doubts: readonly Float64Array[];
  /** Fringes: the most that all smaller ones together change a reading by, standard. */
  readonly leftOut: number;
}

/** `side`: the frame's smaller one, pixels. */
export function mapDoubts(fields: PixelFields, map: FrameMap, side: number): MapDoubts {
  if (!(map.uncertainty > 0)) return { doubts: [], leftOut: 0 };
  const errors = errorsOver(fields, map, side);
  const n = errors.length;
  const gram = gramOf(errors, fields);
  const { values, vectors } = symmetricEigen(gram, n);
  const doubts: Float64Array[] = [];
  let small = 0;
  for (let k = 0; k < n; k++) {
    if (values[k]! < LEAST * LEAST) {
      small += Math.max(0, values[k]!);
      continue;
    }
    const way = new Float64Array(2 * TERMS);
    errors.forEach((error, j) => {
      for (let t = 0; t < way.length; t++) way[t]! += vectors[k]![j]! * error[t]!;
    });
    doubts.push(changesBy(way, fields));
  }
  return { doubts, leftOut: EDGE_TO_EDGE * Math.sqrt(small) };
}

/** How the changes of W by each error go together, at some of the pixels. */
function gramOf(errors: readonly Float64Array[], fields: PixelFields): Float64Array {
  const { perColumn, perRow, u, v, count } = fields;
  const n = errors.length;
  const step = Math.max(1, Math.floor(count / LOOKED_AT));
  const gram = new Float64Array(n * n);
  const own = new Float64Array(n);
  let looked = 0;
  for (let i = 0; i < count; i += step, looked++) {
    for (let k = 0; k < n; k++) own[k] = changeAt(errors[k]!, perColumn[i]!, perRow[i]!, u[i]!, v[i]!);
    for (let a = 0; a < n; a++) for (let b = 0; b <= a; b++) gram[a * n + b]! += own[a]! * own[b]!;
  }
  for (let a = 0; a < n; a++)
    for (let b = 0; b <= a; b++) {
      gram[a * n + b]! /= looked;
      gram[b * n + a] = gram[a * n + b]!;
    }
  return gram;
}

function changesBy(error: Float64Array, { perColumn, perRow, u, v, count }: PixelFields): Float64Array {
  const changes = new Float64Array(count);
  for (let i = 0; i < count; i++) changes[i] = changeAt(error, perColumn[i]!, perRow[i]!, u[i]!, v[i]!);
  return changes;
}

/** Polynomials in u and v of the columns' error, and of the rows'; W's change by it. */
function changeAt(error: Float64Array, perColumn: number, perRow: number, u: number, v: number): number {
  const column =
    error[0]! + u * (error[1]! + u * error[3]! + v * error[4]!) + v * (error[2]! + v * error[5]!);
  const row = error[6]! + u * (error[7]! + u * error[9]! + v * error[10]!) + v * (error[8]! + v * error[11]!);
  return perColumn * column + perRow * row;
}

function errorsOver(
  { column, row, u, v }: PixelFields,
  map: FrameMap,
  side: number,
): readonly Float64Array[] {
  const { uncertainty, errorsAt, toPattern } = map;
  const [across, down] = [pixelsOf(column, u), pixelsOf(row, v)];
  const shift = errorsAt === undefined ? uncertainty : OWN;
  const bent = (2 * BENT * shift) / side;
  const stretches = [
    [1, across.perUnit],
    [2, down.perUnit],
  ] as const;
  const own = [0, TERMS].flatMap((from) => [
    single(from, shift),
    ...stretches.map(([term, half]) => single(from + term, bent * half)),
  ]);
  if (errorsAt === undefined) return own;
  const at = (p: number, q: number): Float64Array =>
    errorsAt(toPattern([across.middle + p * across.perUnit, down.middle + q * down.perUnit]));
  // Second differences: the errors are cubics over the picture, next to quadratics over a patch.
  const [o, e, w, s, n, es, wn] = [at(0, 0), at(1, 0), at(-1, 0), at(0, 1), at(0, -1), at(1, 1), at(-1, -1)];
  const terms = (i: number): readonly number[] => {
    const uu = (e[i]! + w[i]!) / 2 - o[i]!;
    const vv = (s[i]! + n[i]!) / 2 - o[i]!;
    const uv = (es[i]! + wn[i]!) / 2 - o[i]! - uu - vv;
    return [o[i]!, (e[i]! - w[i]!) / 2, (s[i]! - n[i]!) / 2, uu, uv, vv];
  };
  const known = Array.from({ length: o.length / 2 }, (_, k) =>
    Float64Array.from([...terms(2 * k), ...terms(2 * k + 1)]),
  );
  return [...known, ...own];
}

const single = (term: number, value: number): Float64Array => {
  const error = new Float64Array(2 * TERMS);
  error[term] = value;
  return error;
};

/** Where u or v is 0, and by how many pixels it grows by 1. */
function pixelsOf(
  places: Float64Array,
  units: Float64Array,
): { readonly middle: number; readonly perUnit: number } {
  const [least, most] = endsOf(places);
  const [first, last] = endsOf(units);
  const perUnit = (most - least) / Math.max(1e-9, last - first);
  return { middle: least - first * perUnit, perUnit };
}
