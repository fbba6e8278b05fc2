/** Whether a frame has far more light, or fringes, where the pattern has nothing than where it has: then it shows something else. */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { outlineFinder } from '../../geometry/outline-index.ts';
import { distance2 } from '../../geometry/vector.ts';
import type { FrameMap } from './frame-map.ts';
import type { LitOutline } from './lit-outlines.ts';
import type { Aperture } from './place-model.ts';
import type { ReducedPicture } from './reduced-picture.ts';

/** Blocks a side from one that is looked at to the next. */
const STRIDE = 4;
/** Unlike the surround: so many times its own scatter, or this part of the frame's. */
const TIMES = 5;
const PART = 0.25;
/** Times as much area elsewhere: keep-outs, mounts and rims that show are thin beside the few patches of a small pattern. */
const MOST_ELSEWHERE = 3;
/** From the median of |deviates| to their standard deviation. */
const FROM_MEDIAN = 1.4826;
/** 1, x, y, x², x y, y²: light that falls off and leans to a side. */
const TERMS = 6;

export function mostLightIsElsewhere(
  picture: ReducedPicture,
  map: FrameMap,
  { centre, radius }: Aperture,
  outlines: readonly LitOutline[],
): boolean {
  const { block, columns, rows, mean, variance, spread } = picture;
  const find = outlineFinder(outlines.map(({ outline }) => outline));
  const [covered, free]: [number[], number[]] = [[], []];
  for (let row = STRIDE >> 1; row < rows; row += STRIDE)
    for (let column = STRIDE >> 1; column < columns; column += STRIDE) {
      const middle = (block - 1) / 2;
      const place = map.toPattern([column * block + middle, row * block + middle]);
      if (distance2(place, centre) > radius) continue;
      (find(place) === undefined ? free : covered).push(row * columns + column);
    }
  if (free.length <= 2 * TERMS || covered.length === 0) return false;
  const terms = (at: number): number[] => {
    const [x, y] = [(2 * (at % columns)) / columns - 1, (2 * Math.floor(at / columns)) / rows - 1];
    return [1, x, y, x * x, x * y, y * y];
  };
  const system = Float64Array.from(free.flatMap(terms));
  const levels = Float64Array.from(free, (at) => mean[at]!);
  let weights = new Float64Array(free.length).fill(1);
  let surround = new Float64Array(TERMS);
  let scatter = 0;
  for (let round = 0; round < 4; round++) {
    const { solution, residuals } = solveLeastSquares(system, TERMS, levels, { weights });
    surround = Float64Array.from(solution);
    const sizes = residuals.map(Math.abs).sort();
    scatter = FROM_MEDIAN * sizes[Math.floor(sizes.length / 2)]!;
    weights = Float64Array.from(residuals, (residual) => 1 / (1 + (residual / (2 * scatter + 1e-3)) ** 2));
  }
  const bound = Math.max(TIMES * scatter, PART * Math.sqrt(spread));
  const isUnlike = (at: number): boolean => {
    const expected = terms(at).reduce((sum, term, k) => sum + term * surround[k]!, 0);
    return Math.sqrt((mean[at]! - expected) ** 2 + variance[at]!) > bound;
  };
  return free.filter(isUnlike).length > MOST_ELSEWHERE * covered.filter(isUnlike).length;
}
