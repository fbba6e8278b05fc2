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
      const pushed = (by: number): readonly number[] =>
        some.flatMap(({ at, outward }) =>
          pictureCoordinates(orientation, aperture, [at[0] + by * outward[0], at[1] + by * outward[1]]),
        );
      const deepest = DEEPEST * width;
      return {
        inside: Float64Array.from(
          bands.inside.flatMap((by) => pushed(-Math.min(deepest, by * aperture.radius))),
        ),
        around: Float64Array.from(bands.around.flatMap((by) => pushed(by * aperture.radius))),
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
  if (!gather(inside, picture, place)) return 0;
  const [within, own] = [gathered[0]!, gathered[1]!];
  if (!gather(around, picture, place)) return 0;
  const [beside, other] = [gathered[0]!, gathered[1]!];
  const floor = FLOOR * picture.spread + (picture.noise / picture.block) ** 2;
  const all = (own + other) / 2 + (within - beside) ** 2 / 4;
  const evidence =
    Math.log(all + floor) - BAND * Math.log(other + floor) - (1 - BAND) * Math.log(own + floor);
  return Math.max(0, evidence);
}

/** Variance below which a band is even, as a part of the frame's own. */
const FLOOR = 0.01;
/** More is asked of the band than of the inside, which has fringes. */
const BAND = 0.75;
/** Fewer of an outline's points in the frame say nothing of it. */
const LEAST_IN_FRAME = 0.7;

/** Mean and variance over the points, of pixels. */
const gathered = new Float64Array(2);

function gather(points: Float64Array, picture: ReducedPicture, place: Place): boolean {
  const { block, columns, rows, mean, variance } = picture;
  const [x, y, a, b] = [place[0]!, place[1]!, place[2]!, place[3]!];
  const [k, p, q] = [place[4]!, place[5]!, place[6]!];
  let [sum, squares, count] = [0, 0, 0];
  for (let i = 0; i < points.length; i += 2) {
    const u = points[i]!;
    const v = points[i + 1]!;
    const square = u * u + v * v;
    const right = u * (1 + k * square) + 2 * p * u * v + q * (square + 2 * u * u);
    const down = v * (1 + k * square) + p * (square + 2 * v * v) + 2 * q * u * v;
    const column = Math.floor((x + a * right - b * down + 0.5) / block);
    const row = Math.floor((y + a * down + b * right + 0.5) / block);
    if (column < 0 || row < 0 || column >= columns || row >= rows) continue;
    const at = row * columns + column;
    const value = mean[at]!;
    sum += value;
    squares += value * value + variance[at]!;
    count++;
  }
  if (2 * count < LEAST_IN_FRAME * points.length) return false;
  gathered[0] = sum / count;
  gathered[1] = Math.max(0, squares / count - gathered[0]! ** 2);
  return true;
}
