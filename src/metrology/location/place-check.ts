/** How far off a fitted place may be, and how well it fits each outline. Pixels. */
import type { Vec2 } from '../../geometry/vector.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { EdgeCrossing } from './edge-crossings.ts';
import type { LitOutline } from './lit-outlines.ts';
import { FITTED_UNKNOWNS, type FittedPlace } from './place-fit.ts';
import { type Aperture, pictureCoordinates, placeSlopes } from './place-model.ts';

/** What pixels and the edges' own roughness leave at best. */
const LEAST_UNCERTAINTY = 0.05;
/** Unknowns that outlines' own shifts tell of: the similarity's. */
const TOLD_BY_SHIFTS = 4;
/** Crossings by which an outline's own shift is known. */
const LEAST_OF_OUTLINE = 8;

/**
 * Standard, along the columns or the rows, the root mean square over all outlines, lit or dark: by the fit's covariance, `misfit` times larger.
 */
export function placeUncertainty(
  fit: FittedPlace,
  misfit: number,
  outlines: readonly LitOutline[],
  aperture: Aperture,
  orientation: CameraOrientation,
): number {
  let [sum, count] = [0, 0];
  const [columns, rows] = [new Float64Array(FITTED_UNKNOWNS), new Float64Array(FITTED_UNKNOWNS)];
  for (const { edge } of outlines) {
    if (edge.length === 0) continue;
    let own = 0;
    for (const { at } of edge) {
      placeSlopes(fit.place, ...pictureCoordinates(orientation, aperture, at), columns, rows);
      own += varianceAlong(columns, fit.factor) + varianceAlong(rows, fit.factor);
    }
    sum += own / (2 * edge.length);
    count++;
  }
  return Math.hypot(LEAST_UNCERTAINTY, Math.sqrt(sum / count) * misfit);
}

/** The fitted place's independent errors at (u, v), `misfit` times larger than by the fit's covariance: columns and rows in turn, pixels. */
export function errorsAt({ place, factor }: FittedPlace, misfit: number, [u, v]: Vec2): Float64Array {
  const n = FITTED_UNKNOWNS;
  const [columns, rows] = [new Float64Array(n), new Float64Array(n)];
  placeSlopes(place, u, v, columns, rows);
  const errors = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) {
      errors[2 * k]! += misfit * columns[i]! * factor[i * n + k]!;
      errors[2 * k + 1]! += misfit * rows[i]! * factor[i * n + k]!;
    }
  }
  return errors;
}

function varianceAlong(slopes: Float64Array, factor: Float64Array): number {
  const n = slopes.length;
  let variance = 0;
  for (let k = 0; k < n; k++) {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += slopes[i]! * factor[i * n + k]!;
    variance += sum * sum;
  }
  return variance;
}

/**
 * How many times larger than their stated uncertainty whole outlines' shifts are, root mean square, or the means over some neighbours on an
 * edge: fringes that end there move them all alike. 1 at least.
 */
export function misfitOf(crossings: readonly EdgeCrossing[], fit: FittedPlace): number {
  return Math.sqrt(Math.max(1, shiftsOf(crossings, fit), ...RUNS.map((run) => runsOf(crossings, fit, run))));
}

const RUNS = [6, 12] as const;
/** Cosine between the directions of neighbours on one edge. */
const ALONG = 0.95;

/** Mean square of the weighted means over runs of neighbours against what independent ones' would be. */
function runsOf(
  crossings: readonly EdgeCrossing[],
  { kept, residuals, usual }: FittedPlace,
  most: number,
): number {
  let [squares, runs] = [0, 0];
  let [sum, weights, length] = [0, 0, 0];
  let first: EdgeCrossing | undefined;
  const close = (): void => {
    if (2 * length > most) {
      squares += (sum * sum) / weights;
      runs++;
    }
    [sum, weights, length] = [0, 0, 0];
  };
  crossings.forEach((crossing, i) => {
    if (!kept[i]) return;
    const { outline, outward, uncertainty } = crossing;
    const isSame =
      first !== undefined &&
      first.outline === outline &&
      first.outward[0] * outward[0] + first.outward[1] * outward[1] > ALONG;
    if (!isSame || length === most) {
      close();
      first = crossing;
    }
    const weight = 1 / (usual * uncertainty) ** 2;
    sum += weight * residuals[i]!;
    weights += weight;
    length++;
  });
  close();
  return runs <= FITTED_UNKNOWNS ? 1 : squares / (runs - FITTED_UNKNOWNS);
}

/** Mean square of the outlines' own shifts against what their crossings' weights say. */
function shiftsOf(crossings: readonly EdgeCrossing[], { kept, residuals, usual }: FittedPlace): number {
  const sums = new Map<number, Float64Array>();
  crossings.forEach(({ outline, outward, uncertainty }, i) => {
    if (!kept[i]) return;
    const own = sums.get(outline) ?? new Float64Array(6);
    sums.set(outline, own);
    const weight = 1 / (usual * uncertainty) ** 2;
    const [x, y] = outward;
    own[0]! += weight * x * x;
    own[1]! += weight * x * y;
    own[2]! += weight * y * y;
    own[3]! += weight * x * residuals[i]!;
    own[4]! += weight * y * residuals[i]!;
    own[5]! += 1;
  });
  let [squares, told] = [0, 0];
  for (const [xx, xy, yy, x, y, count] of sums.values() as Iterable<Float64Array> as Iterable<Six>) {
    const determinant = xx * yy - xy * xy;
    if (count < LEAST_OF_OUTLINE || !(determinant > 0.01 * xx * yy)) continue;
    squares += (yy * x * x - 2 * xy * x * y + xx * y * y) / determinant;
    told += 2;
  }
  return squares / Math.max(1, told - TOLD_BY_SHIFTS);
}

type Six = readonly [number, number, number, number, number, number];
