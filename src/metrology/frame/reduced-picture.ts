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
/** A tenth of the blocks, or more, have neither edge nor fringe in them. */
const QUIET = 0.1;

/** Of a phase map its valid part: 1 where the map has a value, 0 elsewhere. */
export function litPicture({ holds, values, ...frame }: CameraFrame): CameraFrame {
  if (holds === 'intensity') return { ...frame, holds, values };
  return { ...frame, holds: 'intensity', values: values.map((value) => (Number.isNaN(value) ? 0 : 1)) };
}

/** What is left over at the right and at the bottom is dropped. */
export function reducedPicture({ width, height, values }: CameraFrame): ReducedPicture {
  const block = Math.max(1, Math.floor(Math.min(width, height) / BLOCKS));
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
      variance[at] = count > 1 ? Math.max(0, (squares - (sum * sum) / count) / (count - 1)) : 0;
    }
  }
  const quiet = variance.slice().sort()[Math.floor(QUIET * variance.length)] ?? 0;
  for (let at = 0; at < variance.length; at++) variance[at] = Math.max(0, variance[at]! - quiet);
  return { block, columns, rows, mean, variance, noise: Math.sqrt(quiet), spread: varianceOf(mean) };
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
