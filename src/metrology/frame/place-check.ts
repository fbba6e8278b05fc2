/** How far off a fitted place may be, and how well it fits each outline. Pixels. */
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { EdgeCrossing } from './edge-crossings.ts';
import type { LitOutline } from './lit-outlines.ts';
import { FITTED_UNKNOWNS, type FittedPlace } from './place-fit.ts';
import { type Aperture, pictureCoordinates, placeSlopes } from './place-model.ts';

/** What pixels and the edges' own roughness leave at best. */
const LEAST = 0.05;
/** Unknowns that outlines' own shifts tell of: the similarity's. */
const TOLD_BY_SHIFTS = 4;
/** Crossings by which an outline's own shift is known. */
const LEAST_OF_OUTLINE = 8;

/**
 * Standard, along the columns or the rows, the root mean square over all outlines, lit or dark: by the fit's covariance, as many times
 * larger as whole outlines are farther off than their edges' scatter says.
 */
export function placeUncertainty(
  crossings: readonly EdgeCrossing[],
  fit: FittedPlace,
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
  return Math.hypot(LEAST, Math.sqrt(sum / count) * misfitOf(crossings, fit));
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

/** Root mean square of the outlines' own shifts against what their crossings' weights say; 1 at least. */
function misfitOf(crossings: readonly EdgeCrossing[], { kept, residuals, usual }: FittedPlace): number {
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
  return Math.sqrt(Math.max(1, squares / Math.max(1, told - TOLD_BY_SHIFTS)));
}

type Six = readonly [number, number, number, number, number, number];
