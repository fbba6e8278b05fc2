/**
 * Where the phase is stationary inside a region: the places that fringes close around (an extreme) or part at (a saddle).
 *
 * A certified search: with H the bound of the second derivatives of Φ, a square of half diagonal r holds no stationary point
 * if |∇Φ| in its middle is larger than H·r. Squares that cannot be dismissed are quartered until their size is REACHED of the
 * region's, then Newton's method (least-norm, so that it also ends on a line of stationary points, such as that of a line
 * focus in collimated light) finds the point. Each comes with the direction along which |Φ''| is least: a cut along it
 * leaves no stationary point in the open region on either side, and follows the whole line where there is one.
 */
import { covers, distanceToEdge } from '../geometry/contains.ts';
import type { Bounds } from '../geometry/extent.ts';
import type { Outline } from '../geometry/outline.ts';
import { cross2, distance2, subtract2, type Vec2 } from '../geometry/vector.ts';
import type { Line } from './cut-region.ts';
import { PointBatch, Probe, type SmoothPhase } from './smooth-phase.ts';

/** Final half size of a square against the region's: closed fringes smaller than this cannot be written anyway. */
const REACHED = 1e-8;
/** More squares than this left at one size mean a line of stationary points: the search stays at that size. */
const MOST_SQUARES = 6000;
/**
 * A square from which Newton's method leads farther than this many half sizes holds no stationary point: it is left over
 * because the bound H is far above the second derivatives there.
 */
const LED_AWAY = 20;
/** Stationary points nearer than this to a cut, against the region's size, lie on it. */
const ON_CUT = 1e-9;
const MOST_CUTS = 64;
/** Allowance for the rounding of gradients: a paraboloid meets the bound exactly. */
const ROUNDED = 1 + 1e-6;
/** Step of the difference quotient for Φ'', against the region's size. */
const DIFFERENCE = 1e-5;
/** Second derivatives below this part of the larger one count as none: rounding of the difference quotient. */
const SINGULAR = 1e-6;

interface Cut {
  readonly line: Line;
  /** The stationary points on the line: one, or many of a row. */
  readonly places: readonly Vec2[];
}

/** Cuts through every stationary point of the phase that lies in the outline. Throws a RangeError where they fill a curve or an area. */
export function cutsThroughStationaryPoints(
  outline: Outline,
  bounds: Bounds,
  phase: SmoothPhase,
): readonly Cut[] {
  const size = Math.max(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const { squares, half } = suspects(outline, bounds, size, phase);
  const probe = new Probe(phase);
  let left = squares.flatMap((middle) => {
    const found = stationaryPointNear(middle, size, probe);
    return distance2(found.at, middle) <= LED_AWAY * half ? [found] : [];
  });
  const cuts: Cut[] = [];
  while (left.length > 0) {
    if (cuts.length === MOST_CUTS)
      throw new RangeError(
        `the phase is stationary along a curve or over an area around (${left[0]!.at.join(', ')}) mm: no fringe can be placed there; ` +
          'expected single stationary points or straight lines of them',
      );
    const line: Line = left[0]!;
    const onLine = ({ at }: Line): boolean =>
      Math.abs(cross2(line.along, subtract2(at, line.at))) <= ON_CUT * size;
    cuts.push({ line, places: left.filter(onLine).map(({ at }) => at) });
    left = left.filter((found) => !onLine(found));
  }
  return cuts;
}

/** The middles of the squares that may hold a stationary point, and their half size. */
function suspects(
  outline: Outline,
  bounds: Bounds,
  size: number,
  phase: SmoothPhase,
): { squares: Vec2[]; half: number } {
  const H = phase.curvatureBound(bounds);
  const batch = new PointBatch();
  let half = size / 2;
  let squares: Vec2[] = [[(bounds.minX + bounds.maxX) / 2, (bounds.minY + bounds.maxY) / 2]];
  for (;;) {
    const radius = half * Math.SQRT2;
    batch.reserve(squares.length);
    squares.forEach(([x, y], k) => {
      batch.x[k] = x;
      batch.y[k] = y;
    });
    batch.evaluate(phase, squares.length);
    squares = squares.filter((middle, k) => {
      const slope = Math.hypot(batch.gx[k]!, batch.gy[k]!);
      return (
        slope <= ROUNDED * H * radius &&
        (covers(outline, middle) || distanceToEdge(outline, middle) <= radius)
      );
    });
    if (squares.length === 0 || half <= REACHED * size || 4 * squares.length > MOST_SQUARES)
      return { squares, half };
    half /= 2;
    squares = squares.flatMap(([x, y]): Vec2[] => [
      [x - half, y - half],
      [x + half, y - half],
      [x - half, y + half],
      [x + half, y + half],
    ]);
  }
}

/** The stationary point that Newton's method comes to, with the direction of the least |Φ''| there. */
function stationaryPointNear(start: Vec2, size: number, probe: Probe): Line {
  let at = start;
  let along: Vec2 = [1, 0];
  for (let step = 0; step < 30; step++) {
    const [one, other] = curvaturesAt(at, size, probe);
    const [c, s] = one.along;
    const [first, second] = [one.curvature, other.curvature];
    along = Math.abs(first) < Math.abs(second) ? [c, s] : [-s, c];
    const least = SINGULAR * Math.max(Math.abs(first), Math.abs(second));
    probe.at(at[0], at[1]);
    const onFirst = Math.abs(first) > least ? (probe.gx * c + probe.gy * s) / first : 0;
    const onSecond = Math.abs(second) > least ? (probe.gy * c - probe.gx * s) / second : 0;
    at = [at[0] - onFirst * c + onSecond * s, at[1] - onFirst * s - onSecond * c];
    if (Math.hypot(onFirst, onSecond) <= 1e-14 * size) break;
  }
  return { at, along };
}

interface Curvature {
  /** Φ'' along `along`, waves/mm². */
  readonly curvature: number;
  readonly along: Vec2;
}

/** The second derivatives of Φ along its two principal directions, at right angles; `size` is that of the region, mm. */
export function curvaturesAt(at: Vec2, size: number, probe: Probe): readonly [Curvature, Curvature] {
  const { xx, xy, yy } = secondDerivatives(at, size * DIFFERENCE, probe);
  // Eigenvectors of a symmetric 2 × 2 matrix by its half turn.
  const turn = Math.atan2(2 * xy, xx - yy) / 2;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [
    { curvature: xx * c * c + 2 * xy * c * s + yy * s * s, along: [c, s] },
    { curvature: xx * s * s - 2 * xy * c * s + yy * c * c, along: [-s, c] },
  ];
}

function secondDerivatives([x, y]: Vec2, step: number, probe: Probe): { xx: number; xy: number; yy: number } {
  const gradient = (x: number, y: number): Vec2 => {
    probe.at(x, y);
    return [probe.gx, probe.gy];
  };
  const [right, left] = [gradient(x + step, y), gradient(x - step, y)];
  const [up, down] = [gradient(x, y + step), gradient(x, y - step)];
  return {
    xx: (right[0] - left[0]) / (2 * step),
    xy: (right[1] - left[1] + up[0] - down[0]) / (4 * step),
    yy: (up[1] - down[1]) / (2 * step),
  };
}
