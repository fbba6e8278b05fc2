/**
 * A patch's pixels as a fit takes them: the frames' values at each, what of them may be used, and the shapes that a doubt of the map adds.
 */
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { FitPixels } from './fringe-fit.ts';
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
  const values = frames.flatMap((frame) => {
    const own = Float64Array.from(at, (index) => frame.values[index]!);
    if (frame.holds === 'phase') {
      for (let i = 0; i < count; i++) if (!Number.isFinite(own[i]!)) used[i] = 0;
      return [0, 0.25].map((behind) =>
        own.map((waves) =>
          Number.isFinite(waves)
            ? AS_FRAME.level + AS_FRAME.amplitude * Math.cos(2 * Math.PI * (waves - behind))
            : 0,
        ),
      );
    }
    const most = brightest(frame);
    for (let i = 0; i < count; i++) {
      if (own[i]! >= most) saturated++;
      if (Number.isFinite(own[i]!)) continue;
      used[i] = 0;
      own[i] = 0;
    }
    return [own];
  });
  return { values, used, saturated: saturated / frames.length };
}

/** Some `most` of the pixels, spread over all of them without a period. */
export function someOf(count: number, most: number): Uint32Array {
  if (count <= most) return Uint32Array.from({ length: count }, (_, i) => i);
  const chosen: number[] = [];
  for (let i = 0; i < count; i++) {
    // The golden ratio's multiples fill the unit interval evenly.
    const place = (i * GOLDEN) % 1;
    if (place < most / count) chosen.push(i);
  }
  return Uint32Array.from(chosen);
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

export const picked = (values: Float64Array, chosen: Uint32Array): Float64Array =>
  Float64Array.from(chosen, (index) => values[index]!);

export function pickedPixels(pixels: FitPixels, chosen: Uint32Array): FitPixels {
  return {
    count: chosen.length,
    values: pixels.values.map((each) => picked(each, chosen)),
    u: picked(pixels.u, chosen),
    v: picked(pixels.v, chosen),
    waves: picked(pixels.waves, chosen),
    shapes: pixels.shapes.map((each) => picked(each, chosen)),
    expected: pixels.expected,
    spread: pixels.spread,
    contrast: picked(pixels.contrast, chosen),
    used: Uint8Array.from(chosen, (index) => pixels.used[index]!),
    clipped: pixels.clipped,
  };
}

export interface JoinedPixels {
  readonly pixels: FitPixels;
  readonly column: Float64Array;
  readonly row: Float64Array;
}

/** As pixels of twice the side, each the mean of four: for a patch of many, whose fringes are far apart. */
export function joinedByFour(fields: PixelFields, pixels: FitPixels): JoinedPixels {
  const { column, row, part, perColumn, perRow, count } = fields;
  const found = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    if (pixels.used[i] === 0) continue;
    const key = ((row[i]! >> 1) * 65536 + (column[i]! >> 1)) * 2 + part[i]!;
    const four = found.get(key);
    if (four === undefined) found.set(key, [i]);
    else four.push(i);
  }
  const fours = [...found.values()].filter((four) => four.length === 4);
  const mean = (values: Float64Array): Float64Array =>
    Float64Array.from(fours, (four) => four.reduce((sum, i) => sum + values[i]!, 0) / 4);
  // Of two samples half a pixel before and behind, the mean of the cosines is the cosine of their mean times cos πf.
  const left = pixels.contrast.map(
    (contrast, i) => contrast * Math.cos(Math.PI * perColumn[i]!) * Math.cos(Math.PI * perRow[i]!),
  );
  return {
    column: mean(column).map((value) => Math.floor(value / 2)),
    row: mean(row).map((value) => Math.floor(value / 2)),
    pixels: {
      ...pixels,
      count: fours.length,
      values: pixels.values.map(mean),
      u: mean(pixels.u),
      v: mean(pixels.v),
      waves: mean(pixels.waves),
      shapes: pixels.shapes.map(mean),
      contrast: mean(left),
      used: new Uint8Array(fours.length).fill(1),
    },
  };
}

/** What averaging over a square pixel leaves of fringes so close. */
export function pixelContrast({ perColumn, perRow, count }: PixelFields): Float64Array {
  const left = new Float64Array(count);
  for (let i = 0; i < count; i++) left[i] = sinc(perColumn[i]!) * sinc(perRow[i]!);
  return left;
}

const sinc = (x: number): number => {
  const angle = Math.PI * x;
  return Math.abs(angle) < 1e-4 ? 1 : Math.sin(angle) / angle;
};

/** W's change for one standard uncertainty of the map: a shift of the patch in the picture, two ways, and a stretch, four. */
export function mapDoubts(fields: PixelFields, uncertainty: number, stretch: number): Float64Array[] {
  if (!(uncertainty > 0)) return [];
  const { perColumn, perRow, u, v } = fields;
  const across = stretch * uncertainty;
  return [
    perColumn.map((w) => w * uncertainty),
    perRow.map((w) => w * uncertainty),
    perColumn.map((w, i) => w * across * u[i]!),
    perColumn.map((w, i) => w * across * v[i]!),
    perRow.map((w, i) => w * across * u[i]!),
    perRow.map((w, i) => w * across * v[i]!),
  ];
}

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
  for (const residual of residuals) {
    for (const side of BLOCKS) {
      const sums = new Map<number, { sum: number; count: number }>();
      for (let i = 0; i < count; i++) {
        if (used[i] === 0) continue;
        const key = Math.floor(row[i]! / side) * 65536 + Math.floor(column[i]! / side);
        const block = sums.get(key);
        if (block === undefined) sums.set(key, { sum: residual[i]!, count: 1 });
        else {
          block.sum += residual[i]!;
          block.count++;
        }
      }
      if (sums.size < FEWEST_BLOCKS) continue;
      let total = 0;
      for (const { sum, count } of sums.values()) total += (sum * sum) / count;
      const ratio = total / sums.size / variance;
      excess = Math.max(excess, ratio);
      if (side === SHARED_BY)
        shared = Math.max(shared, Math.sqrt((Math.max(0, ratio - 1) * variance) / (side * side)));
    }
  }
  return { excess, shared };
}

const BLOCKS = [2, 4, 8] as const;
const SHARED_BY = 4;
const FEWEST_BLOCKS = 12;
