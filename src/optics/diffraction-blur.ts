/**
 * What diffraction does to the fringes of a patch: how far the wave that the camera gets is from the geometric picture.
 *
 * mm, waves; computed from diffraction-return.ts. By Fresnel number of the round trip (fresnel-number.ts), for a square patch
 * of one fringe of roof on a cube, and for a round patch on a ball moved by one fringe of tilt:
 *
 *   Fresnel number                0.25    0.5   0.75      1      2      5     20
 *   roof: phase error, fringes   0.132  0.140  0.090  0.069  0.043  0.025  0.014
 *   roof: share of area lost      1.00   0.68   0.30   0.24   0.08   0.00   0.00
 *   tilt: misread, fringes       0.449  0.134  0.077  0.062  0.020  0.003  0.001
 *   tilt: share of area lost      0.61   0.43   0.17   0.21   0.12   0.03   0.00
 *
 * A tenth of a fringe is what is read; where the error of the picture itself reaches that, or a quarter of the patch is lost,
 * the reading means little. Of the Fresnel numbers in the table, LEAST_FRESNEL_NUMBER is the first that stays under both.
 */
import { type DiffractedPatch, diffractedReturn, geometricReturn } from './diffraction-return.ts';
import { sampleAt } from './propagation.ts';

/** Below this the fringes are worse than READING or lost over more than LOST_AREA of the patch: from the table above. */
export const LEAST_FRESNEL_NUMBER = 1;
/** Fringes: common practice for reading by eye or by simple software. */
export const READING = 0.1;
/** Of the patch. */
export const LOST_AREA = 0.25;

interface Blur {
  /** Phase less that of geometry and less its mean, root mean square over the patch weighted by amplitude, waves. */
  readonly phaseError: number;
  /** Tilt fringes from edge to edge along u that are read beyond those of geometry, along u. */
  readonly tiltError: number;
  /** Share of the patch that is dimmer than a quarter of its due, or off by more than READING. */
  readonly lostArea: number;
  /** Mean intensity over the patch; 1 by geometry. */
  readonly brightness: number;
}

/** The blur of one patch, with `samples` across it. Only cells that lie wholly in the patch are judged. */
export function blurOf(patch: DiffractedPatch, samples: number): Blur {
  const { field, coverage } = diffractedReturn(patch, samples);
  const cells = cellsOf(patch, field, coverage);
  let [meanRe, meanIm] = [0, 0];
  for (const { re, im } of cells) {
    meanRe += re;
    meanIm += im;
  }
  const piston = Math.atan2(meanIm, meanRe);
  let [weight, squares, slope, spread, lost, energy] = [0, 0, 0, 0, 0, 0];
  for (const { u, re, im } of cells) {
    const turns = (Math.atan2(im, re) - piston) / (2 * Math.PI);
    const error = turns - Math.round(turns);
    const intensity = re * re + im * im;
    const amplitude = Math.sqrt(intensity);
    weight += amplitude;
    squares += amplitude * error * error;
    slope += u * error;
    spread += u * u;
    energy += intensity;
    if (Math.abs(error) > READING || intensity < LEAST_INTENSITY) lost++;
  }
  return {
    phaseError: Math.sqrt(squares / weight),
    tiltError: (slope / spread) * 2 * patch.halfWidths[0],
    lostArea: lost / cells.length,
    brightness: energy / cells.length,
  };
}

/** Of what geometry gives: there the fringes' contrast falls to half, against a beam of equal brightness. */
const LEAST_INTENSITY = 0.25;
const WHOLE = 1 - 1e-9;

function cellsOf(
  patch: DiffractedPatch,
  field: ReturnType<typeof diffractedReturn>['field'],
  coverage: Float64Array,
) {
  const cells: { u: number; re: number; im: number }[] = [];
  for (let i = 0; i < coverage.length; i++) {
    if (coverage[i] < WHOLE) continue;
    const u = sampleAt(i % field.columns, field.columns, field.spacingX);
    const v = sampleAt(Math.floor(i / field.columns), field.rows, field.spacingY);
    const angle = -2 * Math.PI * geometricReturn(patch, u, v);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    cells.push({ u, re: field.re[i] * c - field.im[i] * s, im: field.im[i] * c + field.re[i] * s });
  }
  return cells;
}
