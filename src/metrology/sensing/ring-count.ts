/**
 * The fringes of a ring, or of whatever else is not read along a focus's senses, as they are counted at the bench: tilt from edge to edge
 * along the substrate's x and along its y, and power from the inner edge to the outer one. Waves; places mm.
 *
 * Signs as along a sense: positive where the path of the return gets shorter, W falls, from the − edge to the + edge, or from the inner edge
 * to the outer. Of W = c + ax + by + p(x² + y²), fitted over the outline about the middle that its radii are measured from.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { boundaryPoints, joined, latticePoints, type Points } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';

export const RING_COUNTS = ['tilt x', 'tilt y', 'power'] as const;
export type RingCounts = readonly [tiltX: number, tiltY: number, power: number];

interface RingRuler {
  readonly middle: Vec2;
  /** From edge to edge along x and along y. */
  readonly widths: Vec2;
  /** Of the inner and the outer edge; 0 for the inner one of what has no hole. */
  readonly radii: Vec2;
}

export function rulerOf(outline: Outline): RingRuler {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const widths: Vec2 = [maxX - minX, maxY - minY];
  if (outline.shape === 'ring' || outline.shape === 'sector')
    return { middle: outline.centre, widths, radii: [outline.inner, outline.outer] };
  const middle: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  const { xs, ys } = boundaryPoints(outline, ON_EDGE);
  const outer = xs.reduce((most, x, i) => Math.max(most, Math.hypot(x - middle[0], ys[i]! - middle[1])), 0);
  return { middle, widths, radii: [0, outer] };
}

const INSIDE = 80;
const ON_EDGE = 80;

/** Where the fringes of an outline are looked at to count them; in a ring as evenly as it is round, so that no count leans into another. */
export function ringPoints(outline: Outline): Points {
  if (outline.shape !== 'ring')
    return joined(latticePoints(outline, INSIDE), boundaryPoints(outline, ON_EDGE));
  const { centre, inner, outer } = outline;
  const places = Array.from({ length: CIRCLES * ROUND }, (_, k): Vec2 => {
    const radius = inner + ((outer - inner) * (k % CIRCLES)) / (CIRCLES - 1);
    const angle = (2 * Math.PI * Math.floor(k / CIRCLES)) / ROUND;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });
  return { xs: Float64Array.from(places, ([x]) => x), ys: Float64Array.from(places, ([, y]) => y) };
}

/** From the inner edge to the outer, and all round. */
const CIRCLES = 4;
const ROUND = 48;

/** Of W at points of the outline. Throws a RangeError for fewer than four. */
export function ringCounts(outline: Outline, { xs, ys }: Points, waves: ArrayLike<number>): RingCounts {
  if (xs.length < 4) throw new RangeError(`${xs.length} points tell no tilt and power`);
  const { middle, widths, radii } = rulerOf(outline);
  const size = Math.max(...widths) / 2;
  const rows = Array.from(xs, (x, i) => {
    const [u, v] = [(x - middle[0]) / size, (ys[i]! - middle[1]) / size];
    return [1, u, v, u * u + v * v];
  });
  const values = Float64Array.from(waves);
  const { solution } = solveLeastSquares(Float64Array.from(rows.flat()), 4, values);
  const [, a, b, p] = solution as unknown as readonly [number, number, number, number];
  const [inner, outer] = radii;
  return [-(a * widths[0]) / size, -(b * widths[1]) / size, -(p * (outer ** 2 - inner ** 2)) / size ** 2];
}
