/**
 * A patch's pixels as a fit takes them: the frames' values at each, and what of them may be used.
 */

import type { CameraFrame } from '../../scenario/camera-frame.ts';
import { type FitPixels, fitPixels } from './fringe-model.ts';
import { scattered } from './patch-pixels.ts';
import type { PixelFields } from './pixel-fields.ts';

export interface SeenPixels {
  readonly values: readonly Float64Array[];
  readonly used: Uint8Array;
  readonly saturated: number;
}

/** Full scale, less half a level. */
const brightest = ({ levels }: CameraFrame): number => 1 - 0.5 / (levels ?? 65535);

/** A phase map is taken as two frames a quarter of a wave apart, the second one the shorter way; so much of full scale. */
const AS_FRAME = { level: 0.5, amplitude: 0.4 } as const;

/** A pixel without a value in one frame is used in none. One that is saturated tells that it is bright: clipped-value.ts. */
export function seenPixels(frames: readonly CameraFrame[], { at, count }: PixelFields): SeenPixels {
  const used = new Uint8Array(count).fill(1);
  let saturated = 0;
  const values: Float64Array[] = [];
  for (const frame of frames) {
    const own = new Float64Array(count);
    for (let i = 0; i < count; i++) own[i] = frame.values[at[i]!]!;
    if (frame.holds === 'phase') {
      for (let i = 0; i < count; i++) if (!Number.isFinite(own[i]!)) used[i] = 0;
      values.push(...[0, 0.25].map((behind) => asFrame(own, behind)));
      continue;
    }
    const most = brightest(frame);
    for (let i = 0; i < count; i++) {
      if (own[i]! >= most) saturated++;
      if (Number.isFinite(own[i]!)) continue;
      used[i] = 0;
      own[i] = 0;
    }
    values.push(own);
  }
  return { values, used, saturated: saturated / frames.length };
}

const asFrame = (waves: Float64Array, behind: number): Float64Array =>
  waves.map((each) =>
    Number.isFinite(each) ? AS_FRAME.level + AS_FRAME.amplitude * Math.cos(2 * Math.PI * (each - behind)) : 0,
  );

/** Some `most` of the pixels, by chance, but the same ones whenever asked: regular ones would show other fringes than there are. */
export function someOf(count: number, most: number): Uint32Array {
  const chosen = new Uint32Array(count);
  const limit = (most / count) * 2 ** 32;
  let filled = 0;
  for (let i = 0; i < count; i++) if (count <= most || scattered(i) < limit) chosen[filled++] = i;
  return chosen.subarray(0, filled);
}

export function picked(values: Float64Array, chosen: Uint32Array): Float64Array {
  const own = new Float64Array(chosen.length);
  for (let i = 0; i < own.length; i++) own[i] = values[chosen[i]!]!;
  return own;
}

export const pickedPixels = (pixels: FitPixels, chosen: Uint32Array): FitPixels =>
  fitPixels({
    ...pixels,
    count: chosen.length,
    values: pixels.values.map((each) => picked(each, chosen)),
    u: picked(pixels.u, chosen),
    v: picked(pixels.v, chosen),
    waves: picked(pixels.waves, chosen),
    shapes: pixels.shapes.map((each) => picked(each, chosen)),
    contrast: picked(pixels.contrast, chosen),
    used: Uint8Array.from(chosen, (index) => pixels.used[index]!),
  });

export interface JoinedPixels {
  readonly pixels: FitPixels;
  readonly column: Float64Array;
  readonly row: Float64Array;
}

/** As pixels of twice the side, each the mean of four: for a patch of many, whose fringes are far apart. */
export function joinedByFour(fields: PixelFields, pixels: FitPixels): JoinedPixels {
  const { column, row, part, perColumn, perRow, count } = fields;
  const [[left, right], [top, bottom]] = [endsOf(column), endsOf(row)];
  const wide = (right >> 1) - (left >> 1) + 1;
  const cells = 2 * wide * ((bottom >> 1) - (top >> 1) + 1);
  const own = new Uint32Array(count);
  const counts = new Uint8Array(cells);
  for (let i = 0; i < count; i++) {
    own[i] = 2 * (((row[i]! >> 1) - (top >> 1)) * wide + (column[i]! >> 1) - (left >> 1)) + part[i]!;
    if (pixels.used[i] === 1) counts[own[i]!]!++;
  }
  const number = new Int32Array(cells).fill(-1);
  let fours = 0;
  for (let cell = 0; cell < cells; cell++) if (counts[cell] === 4) number[cell] = fours++;
  // Of each used pixel the four that it is one of; −1: of none.
  const to = new Int32Array(count);
  for (let i = 0; i < count; i++) to[i] = pixels.used[i] === 1 ? number[own[i]!]! : -1;
  const mean = (values: Float64Array): Float64Array => meanOfFours(values, to, fours);
  // Of two samples half a pixel before and behind, the mean of the cosines is the cosine of their mean times cos πf.
  const contrast = pixels.contrast.map(
    (own, i) => own * Math.cos(Math.PI * perColumn[i]!) * Math.cos(Math.PI * perRow[i]!),
  );
  return {
    column: mean(column).map((value) => Math.floor(value / 2)),
    row: mean(row).map((value) => Math.floor(value / 2)),
    pixels: fitPixels({
      ...pixels,
      count: fours,
      values: pixels.values.map(mean),
      u: mean(pixels.u),
      v: mean(pixels.v),
      waves: mean(pixels.waves),
      shapes: pixels.shapes.map(mean),
      contrast: mean(contrast),
      used: new Uint8Array(fours).fill(1),
    }),
  };
}

function meanOfFours(values: Float64Array, to: Int32Array, fours: number): Float64Array {
  const means = new Float64Array(fours);
  for (let i = 0; i < to.length; i++) if (to[i]! >= 0) means[to[i]!]! += values[i]! / 4;
  return means;
}

/** What averaging over a square pixel leaves of fringes so close. */
export function pixelContrast({ perColumn, perRow, count }: PixelFields): Float64Array {
  const left = new Float64Array(count);
  for (let i = 0; i < count; i++) left[i] = sinc(perColumn[i]!) * sinc(perRow[i]!);
  return left;
}

/** sin(πx)/(πx): what averaging over a pixel leaves of the contrast of x fringes per pixel. */
export const sinc = (x: number): number => {
  const angle = Math.PI * x;
  return Math.abs(angle) < 1e-4 ? 1 : Math.sin(angle) / angle;
};

/**
 * How much more the means of residuals over blocks of neighbours scatter than means of independent ones would: 1 for mere noise. The largest
 * over blocks of 2, 4 and 8 pixels a side; and how strong what neighbours share is, in units of the values.
 */
export function structureOf(
  places: Pick<JoinedPixels, 'column' | 'row'>,
  residuals: readonly Float64Array[],
  used: Uint8Array,
  variance: number,
): { readonly excess: number; readonly shared: number } {
  let [excess, shared] = [1, 0];
  const { column, row } = places;
  const count = column.length;
  const [left, right, top, bottom] = [...endsOf(column), ...endsOf(row)] as [number, number, number, number];
  for (const residual of residuals) {
    for (const side of BLOCKS) {
      const wide = Math.floor((right - left) / side) + 1;
      const high = Math.floor((bottom - top) / side) + 1;
      const sums = new Float64Array(wide * high);
      const counts = new Uint32Array(wide * high);
      for (let i = 0; i < count; i++) {
        if (used[i] === 0) continue;
        const key = Math.floor((row[i]! - top) / side) * wide + Math.floor((column[i]! - left) / side);
        sums[key]! += residual[i]!;
        counts[key]!++;
      }
      let [blocks, total] = [0, 0];
      for (let key = 0; key < sums.length; key++) {
        if (counts[key] === 0) continue;
        blocks++;
        total += sums[key]! ** 2 / counts[key]!;
      }
      if (blocks < FEWEST_BLOCKS) continue;
      const ratio = total / blocks / variance;
      excess = Math.max(excess, ratio);
      if (side === SHARED_BY)
        shared = Math.max(shared, Math.sqrt((surelyOver(ratio, blocks) * variance) / (side * side)));
    }
  }
  return { excess, shared };
}

/** By what a mean of squares of so many is over 1 beyond its own scatter. */
const surelyOver = (ratio: number, count: number): number =>
  Math.max(0, ratio - 1 - 2 * Math.sqrt(2 / count));

/** The least and the greatest. */
export function endsOf(values: Float64Array): [number, number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    least = Math.min(least, values[i]!);
    most = Math.max(most, values[i]!);
  }
  return [least, most];
}

const BLOCKS = [2, 4, 8] as const;
const SHARED_BY = 4;
const FEWEST_BLOCKS = 12;
