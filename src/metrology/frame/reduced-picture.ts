/** A frame in blocks of pixels: each one's mean and variance, by which lit patches stand out from their surround. Intensity, 0 to 1. */
import type { CameraFrame } from '../../scenario/camera-frame.ts';

export interface ReducedPicture {
  /** Pixels a side of each block. */
  readonly block: number;
  readonly columns: number;
  readonly rows: number;
  readonly mean: Float32Array;
  /** What of the variance within a block is no noise. */
  readonly variance: Float32Array;
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
      let [sum, squares] = [0, 0];
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
  for (let at = 0; at < variance.length; at++) variance[at] = Math.max(0, variance[at]! - quiet);
  return { block, columns, rows, mean, variance, noise: Math.sqrt(quiet), spread: varianceOf(mean) };
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
