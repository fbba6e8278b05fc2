/**
 * Whether the fringes that a patch seems to show may be others, finer than the pixels: a fringe more from each pixel to the next changes
 * no pixel's phase. Averaging over the pixel leaves less contrast of such an alias, sinc(f) for f fringes per pixel, and no return has more
 * than full contrast; and of a line focus its tilt has to run along the one direction that the patch senses. Where it does not, it shows
 * as fringes that are not the patch's. Pixels without gaps between them are meant: with gaps finer fringes keep more contrast.
 */
import { complexArray, FourierPlan } from '../../algebra/fourier.ts';
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { transformSquare } from './carrier-search.ts';
import type { PixelFields } from './pixel-fields.ts';
import { sinc } from './seen-pixels.ts';

/** Fringes more per column and per row. Beyond, pixels leave less than a seventh of the contrast. */
const SHIFTS = [-2, -1, 0, 1, 2].flatMap((column) =>
  [-2, -1, 0, 1, 2].flatMap((row) => (column === 0 && row === 0 ? [] : [[column, row] as const])),
);
/** Fringes, root mean square over the patch, that W of a return so far off may have beyond its first order: shown by traced frames. */
const BENT = 0.15;
/** Pixels that are looked at. */
const LOOKED_AT = 200;

/**
 * The least visibility that finer fringes would need to look like those of the fit, whose visibility is `visibility`: above 1 there are none.
 * `own`: how many of the shapes are the patch's.
 */
export function aliasVisibility(fields: PixelFields, shapeCount: number, visibility: number): number {
  const step = Math.max(1, Math.floor(fields.count / LOOKED_AT));
  const chosen = Array.from({ length: Math.floor(fields.count / step) }, (_, k) => k * step);
  const [perColumn, perRow] = [fields.perColumn, fields.perRow];
  const keeps = (dc: number, dr: number): number =>
    chosen.reduce((sum, i) => sum + sinc(perColumn[i]! + dc) * sinc(perRow[i]! + dr), 0) / chosen.length;
  const here = Math.abs(keeps(0, 0));
  const width = shapeCount + 1;
  let least = Number.POSITIVE_INFINITY;
  for (const [dc, dr] of SHIFTS) {
    const left = Math.abs(keeps(dc, dr));
    // Most are ruled out by contrast alone, whatever a fit errs by.
    if (visibility * here > 2 * left) continue;
    const rows = new Float64Array(chosen.length * width);
    chosen.forEach((i, n) => {
      for (let k = 0; k < shapeCount; k++) rows[n * width + k] = fields.shapes[k]![i]!;
      rows[n * width + shapeCount] = 1;
    });
    const more = Float64Array.from(chosen, (i) => dc * fields.column[i]! + dr * fields.row[i]!);
    const { residuals } = solveLeastSquares(rows, width, more);
    const missed = Math.sqrt(residuals.reduce((sum, each) => sum + each * each, 0) / chosen.length);
    const blurred = Math.exp(-((2 * Math.PI * Math.max(0, missed - BENT)) ** 2) / 2);
    least = Math.min(least, (visibility * here) / (left * blurred));
  }
  return least;
}

/** Pixels a side of what is transformed, about the middle of a part's pixels. */
const SIDE = 64;
let plan: FourierPlan | undefined;
/** Pixels of a part: of fewer none stands out. */
const FEWEST = 30;
/** Fringes per pixel: what is coarser is uneven light, or what the fit has of it. */
const COARSE = 0.08;
/** Over a part's width, pixels: fringes per pixel by which its edges spread what is coarse. */
const SPREAD = 3;
/** Times the mean noise in a step of frequency: of its SIDE² steps noise alone has one beyond in some thousand patches, e^−16. */
const SURE = 16;

/**
 * Amplitude of the strongest straight fringes in values at the pixels of any one part (a roof's halves have carriers of their own), units of the
 * values: of whatever spacing, so that an alias is found too. 0 where noise may be all there is.
 */
export function strongestFringes(
  { column, row, part, count }: PixelFields,
  used: Uint8Array,
  values: Float64Array,
): number {
  plan ??= new FourierPlan(SIDE);
  let strongest = 0;
  for (const which of [0, 1]) {
    const own = Array.from({ length: count }, (_, i) => i).filter((i) => part[i] === which && used[i] === 1);
    const left = Math.round(meanOf(own, column)) - SIDE / 2;
    const top = Math.round(meanOf(own, row)) - SIDE / 2;
    const chosen = own.filter(
      (i) => column[i]! >= left && row[i]! >= top && column[i]! < left + SIDE && row[i]! < top + SIDE,
    );
    if (chosen.length < FEWEST) continue;
    const middle = meanOf(chosen, values);
    const data = complexArray(SIDE * SIDE);
    let squares = 0;
    for (const i of chosen) {
      const value = values[i]! - middle;
      data.re[(row[i]! - top) * SIDE + column[i]! - left] = value;
      squares += value * value;
    }
    transformSquare(data, plan, SIDE);
    // Uneven light reaches as far as the patch's narrow width spreads it.
    const least = Math.max(COARSE, SPREAD / Math.sqrt(chosen.length));
    let most = 0;
    for (let k = 0; k < SIDE * SIDE; k++) {
      const [fc, fr] = [k % SIDE, Math.floor(k / SIDE)].map((f) => Math.min(f, SIDE - f) / SIDE) as [
        number,
        number,
      ];
      if (Math.hypot(fc, fr) > least) most = Math.max(most, data.re[k]! ** 2 + data.im[k]! ** 2);
    }
    if (most > SURE * squares) strongest = Math.max(strongest, (2 * Math.sqrt(most)) / chosen.length);
  }
  return strongest;
}

const meanOf = (chosen: readonly number[], values: Float64Array): number =>
  chosen.reduce((sum, i) => sum + values[i]!, 0) / Math.max(1, chosen.length);

/** Pixels a side of a tile, and how many of them it has to have. */
const TILE = 8;
const MOST_OF_TILE = 48;
const FEWEST_TILES = 4;
/** Of noise the highest of a tile's 32 steps of frequency is 4 times their mean, one in some ten thousand 14 times; of a mere fringe pattern 32. */
const STREAKED = 8;
let tilePlan: FourierPlan | undefined;

/**
 * Whether values have fringes whose spacing changes from place to place, as an alias of power has: straight ones in most small tiles, whichever
 * way they run there. What is coarser than a tile is not meant.
 */
export function areStreaked(
  { column, row, part, count }: PixelFields,
  used: Uint8Array,
  values: Float64Array,
): boolean {
  tilePlan ??= new FourierPlan(TILE);
  const tiles = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    if (used[i] === 0) continue;
    const key = ((column[i]! >> 3) * 4096 + (row[i]! >> 3)) * 2 + part[i]!;
    const tile = tiles.get(key);
    if (tile === undefined) tiles.set(key, [i]);
    else tile.push(i);
  }
  let [total, number] = [0, 0];
  for (const own of tiles.values()) {
    if (own.length < MOST_OF_TILE) continue;
    const middle = meanOf(own, values);
    const data = complexArray(TILE * TILE);
    let squares = 1e-12;
    for (const i of own) {
      const value = values[i]! - middle;
      data.re[(row[i]! % TILE) * TILE + (column[i]! % TILE)] = value;
      squares += value * value;
    }
    transformSquare(data, tilePlan, TILE);
    let most = 0;
    for (let k = 0; k < TILE * TILE; k++) {
      const [fc, fr] = [k % TILE, Math.floor(k / TILE)].map((f) => Math.min(f, TILE - f)) as [number, number];
      if (Math.max(fc, fr) > 1) most = Math.max(most, data.re[k]! ** 2 + data.im[k]! ** 2);
    }
    total += most / squares;
    number++;
  }
  return number >= FEWEST_TILES && total > STREAKED * number;
}
