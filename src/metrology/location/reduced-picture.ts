/**
 * A frame in blocks of pixels: each one's mean and variance, by which lit patches stand out from their surround. Intensity, 0 to 1.
 *
 * Of frames in phase steps the picture is how far each pixel swings, which fringes do not show in; of a phase map where it has values that run on
 * from pixel to pixel, as a return's do and noise's do not.
 */
import type { CameraFrame } from '../../scenario/camera-frame.ts';

export interface ReducedPicture {
  /** Pixels a side of each block. */
  readonly block: number;
  readonly columns: number;
  readonly rows: number;
  readonly mean: Float32Array;
  /** What of the variance within a block is no noise. */
  readonly variance: Float32Array;
  /** By turns each block's mean and what its pixels' squares are in the mean, noise left out. */
  readonly moments: Float64Array;
  /** Standard deviation of a pixel in the quiet parts of the frame. */
  readonly noise: number;
  /** Variance of the blocks' means over the frame. */
  readonly spread: number;
}

/** Blocks on the frame's smaller side: a patch of a tenth of the beam has some 20 across. */
const BLOCKS = 200;
/** A block has a variance. */
const LEAST_BLOCK = 2;
/** A tenth of the blocks, or more, have neither edge nor fringe in them. */
const QUIET = 0.1;

/** What is left over at the right and at the bottom is dropped. */
export function reducedPicture({ width, height, values }: CameraFrame): ReducedPicture {
  const block = Math.max(LEAST_BLOCK, Math.floor(Math.min(width, height) / BLOCKS));
  const [columns, rows] = [Math.floor(width / block), Math.floor(height / block)];
  const mean = new Float32Array(columns * rows);
  const variance = new Float32Array(columns * rows);
  const count = block * block;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      let squares = 0;
      for (let j = 0; j < block; j++) {
        const start = (row * block + j) * width + column * block;
        for (let i = start; i < start + block; i++) {
          const value = values[i]!;
          sum += value;
          squares += value * value;
        }
      }
      const at = row * columns + column;
      mean[at] = sum / count;
      variance[at] = Math.max(0, (squares - (sum * sum) / count) / (count - 1));
    }
  }
  const quiet = (variance.slice().sort()[Math.floor(QUIET * variance.length)] ?? 0) / quietShare(count - 1);
  const moments = new Float64Array(2 * variance.length);
  for (let at = 0; at < variance.length; at++) {
    variance[at] = Math.max(0, variance[at]! - quiet);
    moments[2 * at] = mean[at]!;
    moments[2 * at + 1] = mean[at]! * mean[at]! + variance[at]!;
  }
  return { block, columns, rows, mean, variance, moments, noise: Math.sqrt(quiet), spread: varianceOf(mean) };
}

/**
 * The tenth part's bound of a sample variance, of the true one: χ² by E. B. Wilson and M. M. Hilferty, Proc. Natl. Acad. Sci. 17, 684 (1931),
 * with the normal deviate −1.2816.
 */
function quietShare(degreesOfFreedom: number): number {
  const ninth = 2 / (9 * degreesOfFreedom);
  const root = 1 - ninth - 1.2816 * Math.sqrt(ninth);
  return root * root ** 2;
}

function varianceOf(values: Float32Array): number {
  let [sum, squares] = [0, 0];
  for (const value of values) {
    sum += value;
    squares += value * value;
  }
  const middle = sum / values.length;
  return Math.max(0, squares / values.length - middle * middle);
}

/** Fewer frames than this do not part a pixel's swing from its fringes. */
const STEPPED = 3;

/** Pictures in which to look for lit outlines, the best one first. */
export function litPictures(frames: readonly CameraFrame[]): readonly CameraFrame[] {
  const single = frames.map(litPicture);
  const isStepped = frames.length >= STEPPED && frames.every(({ holds }) => holds === 'intensity');
  return isStepped ? [swingOf(frames), ...single] : single;
}

const litPicture = (frame: CameraFrame): CameraFrame =>
  frame.holds === 'intensity' ? frame : smoothPartOf(frame);

/** √2 of the standard deviation over the frames: the amplitude where the steps go round evenly. */
function swingOf(frames: readonly CameraFrame[]): CameraFrame {
  const { width, height } = frames[0]!;
  const values = new Float32Array(width * height);
  for (let at = 0; at < values.length; at++) {
    let sum = 0;
    let squares = 0;
    for (const frame of frames) {
      const value = frame.values[at]!;
      sum += value;
      squares += value * value;
    }
    values[at] = Math.sqrt(Math.max(0, (2 * (squares - (sum * sum) / frames.length)) / frames.length)) || 0;
  }
  return { width, height, holds: 'intensity', values };
}

function smoothPartOf({ width, height, values }: CameraFrame): CameraFrame {
  const lit = new Float32Array(width * height);
  const [along, down] = [new Float32Array(width), new Float32Array(height)];
  for (let row = 0; row < height; row++) {
    runsOn(values, row * width, 1, width, along);
    lit.set(along, row * width);
  }
  for (let column = 0; column < width; column++) {
    runsOn(values, column, width, height, down);
    for (let row = 0; row < height; row++) lit[row * width + column]! *= down[row]!;
  }
  return { width, height, holds: 'intensity', values: blurred(lit, width, height) };
}

/** Cosine of a second difference below which values do not run on: a quarter of noise's are above, and a return's with noise of a twentieth of a wave. */
const ROUGH = 0.7;

/** For each of a line's values, waves: by cos 2π of its second difference with two neighbours, of the three that it is part of the largest; 0 without a value. */
function runsOn(
  values: ArrayLike<number>,
  start: number,
  step: number,
  count: number,
  lit: Float32Array,
): void {
  lit.fill(0);
  for (let k = 1; k < count - 1; k++) {
    const at = start + k * step;
    const bend = values[at - step]! + values[at + step]! - 2 * values[at]!;
    const runs = (Math.cos(2 * Math.PI * bend) - ROUGH) / (1 - ROUGH);
    // NaN is larger than nothing.
    for (let side = k - 1; side <= k + 1; side++) if (runs > lit[side]!) lit[side] = runs;
  }
}

/** Means over three by three: where noise runs on by chance its neighbours do not, and an even blur moves no edge. The frame's own edge is left as it is. */
function blurred(values: Float32Array, width: number, height: number): Float32Array {
  const means = values.slice();
  for (let row = 1; row < height - 1; row++)
    for (let at = row * width + 1; at < (row + 1) * width - 1; at++) {
      let sum = 0;
      for (let k = at - width; k <= at + width; k += width)
        sum += values[k - 1]! + values[k]! + values[k + 1]!;
      means[at] = sum / 9;
    }
  return means;
}
