/**
 * How well outlines fit a reduced picture at a place: each by how much more its inside and a narrow band around it differ between them
 * than within the band, which is even; a dark patch counts nothing, wherever it is thought to be. No level of light is assumed.
 */
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { LitOutline } from './lit-outlines.ts';
import { type Aperture, type Place, pictureCoordinates } from './place-model.ts';
import type { ReducedPicture } from './reduced-picture.ts';

/** (u, v) of points inside an outline and of those in the band around it, after each other. */
export interface ScoredOutline {
  readonly inside: Float64Array;
  readonly around: Float64Array;
}

/** How far from the edge, as parts of the beam's radius; the band keeps within what is clear of other outlines. */
interface Bands {
  readonly edge: 'edge' | 'open';
  readonly inside: readonly number[];
  readonly around: readonly number[];
}
/** For a place that is known to some hundredths of the beam's radius, and for a better one. */
export const WIDE: Bands = { edge: 'open', inside: [0.02, 0.04], around: [0.02, 0.035] };
export const NARROW: Bands = { edge: 'edge', inside: [0.01, 0.025], around: [0.01, 0.02] };
/** Of an outline's width: points from both sides do not meet. */
const DEEPEST = 0.4;
/** An outline with less of a band than this, as a part of its edge, is left out. */
const LEAST_CLEAR = 12;

/** Of each outline some `count` points of the edge. */
export function scoredOutlines(
  outlines: readonly LitOutline[],
  aperture: Aperture,
  orientation: CameraOrientation,
  count: number,
  bands: Bands,
): readonly ScoredOutline[] {
  return outlines
    .filter(({ edge }) => edge.length >= LEAST_CLEAR)
    .map(({ width, ...points }) => {
      const edge = points[bands.edge];
      const step = Math.max(1, Math.floor(edge.length / count));
      const some = edge.filter((_, k) => k % step === 0);
      const pushed = (bands: readonly number[]): Float64Array => {
        const places = new Float64Array(2 * some.length * bands.length);
        let filled = 0;
        for (const by of bands)
          for (const { at, outward } of some) {
            const place = [at[0] + by * outward[0], at[1] + by * outward[1]] as const;
            const [u, v] = pictureCoordinates(orientation, aperture, place);
            places[filled++] = u;
            places[filled++] = v;
          }
        return places;
      };
      const deepest = DEEPEST * width;
      return {
        inside: pushed(bands.inside.map((by) => -Math.min(deepest, by * aperture.radius))),
        around: pushed(bands.around.map((by) => by * aperture.radius)),
      };
    });
}

/** The sum over the outlines, logarithms of ratios of variances. */
export function scoreOf(outlines: readonly ScoredOutline[], picture: ReducedPicture, place: Place): number {
  let sum = 0;
  for (const outline of outlines) sum += evidenceOf(outline, picture, place);
  return sum;
}

/** Of one outline: 0 where nothing is to be seen of it, some 4 where it is plain. */
export function evidenceOf({ inside, around }: ScoredOutline, picture: ReducedPicture, place: Place): number {
  const [own, band] = [scratch(0, inside.length), scratch(1, around.length)];
  seenFrom(inside, picture, place, own);
  seenFrom(around, picture, place, band);
  return evidenceAt(own, band, picture, place[0]! / picture.block, place[1]! / picture.block);
}

/** The same for a place that is shifted many times: points of outlines as blocks from the place's column and row. */
export function scoredBlocks(
  outlines: readonly ScoredOutline[],
  picture: ReducedPicture,
  place: Place,
): readonly ScoredOutline[] {
  const blocksOf = (points: Float64Array): Float64Array => {
    const seen = new Float64Array(points.length);
    seenFrom(points, picture, place, seen);
    return seen;
  };
  return outlines.map(({ inside, around }) => ({ inside: blocksOf(inside), around: blocksOf(around) }));
}

/** `column` and `row`: pixels. */
export function scoreOfBlocks(
  blocks: readonly ScoredOutline[],
  picture: ReducedPicture,
  column: number,
  row: number,
): number {
  const [x, y] = [column / picture.block, row / picture.block];
  let sum = 0;
  for (let k = 0; k < blocks.length; k++)
    sum += evidenceAt(blocks[k]!.inside, blocks[k]!.around, picture, x, y);
  return sum;
}

function evidenceAt(
  inside: Float64Array,
  around: Float64Array,
  picture: ReducedPicture,
  column: number,
  row: number,
): number {
  if (!gather(inside, picture, column, row)) return 0;
  const within = gathered[0]!;
  const own = gathered[1]!;
  if (!gather(around, picture, column, row)) return 0;
  const beside = gathered[0]!;
  const other = gathered[1]!;
  const floor = FLOOR * picture.spread + (picture.noise / picture.block) ** 2;
  const all = (own + other) / 2 + (within - beside) ** 2 / 4;
  // ln all − ¾ ln other − ¼ ln own, by one logarithm: more is asked of the band than of the inside, which has fringes.
  const ratio = (all + floor) / (other + floor);
  const evidence = (ratio * ratio * ratio * (all + floor)) / (own + floor);
  return evidence > 1 ? Math.log(evidence) / 4 : 0;
}

/** Variance below which a band is even, as a part of the frame's own. */
const FLOOR = 0.01;
/** Fewer of an outline's points in the frame say nothing of it. */
const LEAST_IN_FRAME = 0.7;

/** Mean and variance over the points, of pixels. */
const gathered = new Float64Array(2);

function gather(
  blocks: Float64Array,
  { columns, rows, moments }: ReducedPicture,
  x: number,
  y: number,
): boolean {
  let sum = 0;
  let squares = 0;
  let count = 0;
  for (let i = 0; i < blocks.length; i += 2) {
    const right = x + blocks[i]!;
    const down = y + blocks[i + 1]!;
    if (!(right >= 0 && down >= 0 && right < columns && down < rows)) continue;
    // Whole parts: they are positive.
    const at = 2 * ((down | 0) * columns + (right | 0));
    sum += moments[at]!;
    squares += moments[at + 1]!;
    count++;
  }
  if (2 * count < LEAST_IN_FRAME * blocks.length) return false;
  const mean = sum / count;
  gathered[0] = mean;
  gathered[1] = Math.max(0, squares / count - mean * mean);
  return true;
}

/** Points as blocks from the place's own column and row. */
function seenFrom(points: Float64Array, { block }: ReducedPicture, place: Place, seen: Float64Array): void {
  const [, , a, b, k, p, q] = place as unknown as Seven;
  for (let i = 0; i < points.length; i += 2) {
    const u = points[i]!;
    const v = points[i + 1]!;
    const square = u * u + v * v;
    const right = u * (1 + k * square) + 2 * p * u * v + q * (square + 2 * u * u);
    const down = v * (1 + k * square) + p * (square + 2 * v * v) + 2 * q * u * v;
    seen[i] = (a * right - b * down + 0.5) / block;
    seen[i + 1] = (a * down + b * right + 0.5) / block;
  }
}

type Seven = readonly [number, number, number, number, number, number, number];

const kept = [new Float64Array(0), new Float64Array(0)];

/** One of two arrays of so many, used over and over. */
function scratch(which: 0 | 1, length: number): Float64Array {
  if (kept[which]!.length < length) kept[which] = new Float64Array(length);
  return kept[which]!.subarray(0, length);
}
