/** Grey pictures that the program wrote, and how well one is the picture that a trace foretells. */
import { decode } from 'fast-png';
import { Matrix, solve } from 'ml-matrix';
import type { Picture, Way } from '../../independent/fringes-seen.ts';

export interface Grey {
  readonly width: number;
  readonly height: number;
  /** 0 to 1, of a column and a row from the top left. */
  readonly at: (column: number, row: number) => number;
}

export function readGrey(png: Uint8Array): Grey {
  const { width, height, depth, data, channels } = decode(png);
  if (channels !== 1 || (depth !== 8 && depth !== 4))
    throw new Error(`${channels} channels of ${depth} bits`);
  const bytes = Math.ceil((width * depth) / 8);
  return {
    width,
    height,
    at: (column, row) => {
      if (depth === 8) return data[row * bytes + column]! / 255;
      const two = data[row * bytes + (column >> 1)]!;
      return (column % 2 === 0 ? two >> 4 : two & 15) / 15;
    },
  };
}

/** Square pictures that stand side by side in one. */
export const tilesOf = (strip: Grey): readonly Grey[] =>
  Array.from({ length: strip.width / strip.height }, (_, k) => ({
    width: strip.height,
    height: strip.height,
    at: (column: number, row: number) => strip.at(k * strip.height + column, row),
  }));

export type PlaceOfPixel = (column: number, row: number) => Way;

/** Where a pixel's middle is in the picture, found by where in these pictures of one patch there is light: its corners, right and up. */
export function pixelPlaces(pictures: readonly Grey[], corners: readonly Way[]): PlaceOfPixel {
  const { width, height } = pictures[0]!;
  const columns = indices(width).filter((column) =>
    pictures.some(({ at }) => indices(height).some((row) => at(column, row) > 0)),
  );
  const rows = indices(height).filter((row) =>
    pictures.some(({ at }) => columns.some((column) => at(column, row) > 0)),
  );
  const [right, up] = [0, 1].map((k) => corners.map((corner) => corner[k]!)) as [number[], number[]];
  const [left, top] = [Math.min(...right), Math.max(...up)];
  const across = (Math.max(...right) - left) / (columns.at(-1)! + 1 - columns[0]!);
  const down = (top - Math.min(...up)) / (rows.at(-1)! + 1 - rows[0]!);
  if (Math.abs(across / down - 1) > 0.06) throw new Error(`pixels of ${across} by ${down} mm are not square`);
  return (column, row) => [left + (column + 0.5 - columns[0]!) * across, top - (row + 0.5 - rows[0]!) * down];
}

const indices = (count: number): readonly number[] => Array.from({ length: count }, (_, k) => k);

/** Pixels a side that are looked at: each third, so that turned by halves or mirrored they are the same ones. */
const SIDE = 16;
const pixel = (k: number): number => 1 + 3 * k;
export const SIZE = 3 * SIDE;

/** A list of them, row by row, as is and turned. */
export const ways: Readonly<
  Record<'as it is' | 'mirrored' | 'upside down' | 'turned round', (i: number) => number>
> = {
  'as it is': (i) => i,
  mirrored: (i) => i - (i % SIDE) + (SIDE - 1 - (i % SIDE)),
  'upside down': (i) => SIDE * (SIDE - 1 - Math.floor(i / SIDE)) + (i % SIDE),
  'turned round': (i) => SIDE * SIDE - 1 - i,
};

const listOf = <T>(of: (column: number, row: number) => T): readonly T[] =>
  indices(SIDE * SIDE).map((i) => of(pixel(i % SIDE), pixel(Math.floor(i / SIDE))));

export const greys = ({ at }: Grey): readonly number[] => listOf(at);

/** W at the pixels; NaN where a trace brings no light. */
export const foretold = (placeOf: PlaceOfPixel, picture: Picture): readonly number[] =>
  listOf((column, row) => picture(...placeOf(column, row)));

export const greysOf = (waves: readonly number[]): readonly number[] =>
  waves.map((value) => (Number.isNaN(value) ? 0 : (1 + Math.cos(2 * Math.PI * value)) / 2));

/**
 * The share of a picture's variance that fringes cos 2πW foretell, of any contrast and phase as a whole, which a picture does not tell:
 * 1 for the same picture. NaN for a picture of one grey.
 */
export function likeness(seen: readonly number[], waves: readonly number[], way: keyof typeof ways): number {
  const lit = indices(waves.length).filter((i) => !Number.isNaN(waves[i]!));
  const values = lit.map((i) => seen[ways[way](i)]!);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const all = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  if (all < EVEN * values.length) return Number.NaN;
  const rows = lit.map((i) => [1, Math.cos(2 * Math.PI * waves[i]!), Math.sin(2 * Math.PI * waves[i]!)]);
  const fit = solve(new Matrix(rows), Matrix.columnVector(values), true).to1DArray();
  const left = values.reduce(
    (sum, value, k) => sum + (value - rows[k]!.reduce((to, part, j) => to + part * fit[j]!, 0)) ** 2,
    0,
  );
  return 1 - left / all;
}

/** Variance of a picture in one grey, to a step of sixteen greys. */
const EVEN = 1e-3;
