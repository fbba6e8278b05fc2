/** The blur of one diffracted patch against geometry, from which the table of src/optics/diffraction-blur.ts comes. mm, waves. */
import {
  type DiffractedPatch,
  diffractedReturn,
  geometricReturn,
} from '../../../src/optics/diffraction-return.ts';
import { sampleAt } from '../../../src/optics/propagation.ts';

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
