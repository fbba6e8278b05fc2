/**
 * The least and the largest local period of a patch, mm, over the whole of it and not at its corners only.
 *
 * |∇Φ| is sampled inside and densely along the boundary (with the corners and both sides of a roof's ridge), then followed
 * to its extremes by a compass search that stays in the patch: right to some 1e-6 of the period. Where Φ has a stationary point the largest period is Infinity.
 */
import { boundaryOf } from '../geometry/boundary.ts';
import { covers } from '../geometry/contains.ts';
import { boundsOf, largestDistanceFrom } from '../geometry/extent.ts';
import { nearestOn, type Piece } from '../geometry/piece.ts';
import { boundaryPoints, interiorGrid, joined, type Points, spacingFor } from '../geometry/sampling.ts';
import { distance2, type Vec2 } from '../geometry/vector.ts';
import type { Pattern } from './pattern.ts';

export interface PeriodRange {
  readonly min: number;
  readonly minAt: Vec2;
  /** Infinity where the phase is stationary somewhere in the patch. */
  readonly max: number;
}

const INSIDE = 100;
const ALONG_BOUNDARY = 120;
/** The search stops at steps this small against the patch: the period is flat to second order there. */
const LAST_STEP = 1e-6;
/** Under this many waves across the patch, the phase is taken as stationary: no fringe edge can be placed by it. */
const STATIONARY_WAVES = 1e-3;

const known = new WeakMap<Pattern, PeriodRange>();

/** Searched once a patch: rules, report, drawing and tables all ask for it. */
export function periodRange(patch: Pattern): PeriodRange {
  const range = known.get(patch) ?? searchedRange(patch);
  known.set(patch, range);
  return range;
}

function searchedRange(patch: Pattern): PeriodRange {
  const size = largestDistanceFrom(patch.outline, patch.centre);
  const { xs, ys } = samplePoints(patch);
  const { gx, gy } = patch.phase.gradients(xs, ys);
  let [steepest, flattest] = [0, 0];
  const steepness = new Float64Array(xs.length);
  for (let i = 0; i < xs.length; i++) {
    steepness[i] = Math.sqrt(gx[i] * gx[i] + gy[i] * gy[i]);
    if (steepness[i] > steepness[steepest]) steepest = i;
    if (steepness[i] < steepness[flattest]) flattest = i;
  }
  const slope = (at: Vec2): number => {
    const [x, y] = patch.phase.gradient(at[0], at[1]);
    return Math.sqrt(x * x + y * y);
  };
  const most = follow(patch, slope, [xs[steepest], ys[steepest]], size, 1);
  const least = follow(patch, slope, [xs[flattest], ys[flattest]], size, -1);
  return {
    min: 1 / most.value,
    minAt: most.at,
    max: least.value * size < STATIONARY_WAVES ? Number.POSITIVE_INFINITY : 1 / least.value,
  };
}

/**
 * A period that no place in the patch goes below, mm, from one gradient and a bound of the phase's curvature: cheap, and
 * enough to clear most patches of a rule without a search.
 */
export function periodFloor(patch: Pattern): number {
  const { minX, minY, maxX, maxY } = boundsOf(patch.outline);
  const middle: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  const reach = Math.sqrt((maxX - minX) ** 2 + (maxY - minY) ** 2) / 2;
  const [gx, gy] = patch.phase.gradient(...middle);
  const bend = patch.phase.curvatureBound({ minX, minY, maxX, maxY }) * reach;
  return 1 / (Math.sqrt(gx * gx + gy * gy) + bend + 2 * biasSlope(patch));
}

/** Largest slope of the bias, waves/mm: a ridge turns the gradient by twice it. */
function biasSlope({ bias }: Pattern): number {
  if (bias?.shape !== 'roof') return 0;
  const [x, y] = bias.direction;
  return (Math.abs(bias.amplitude) * Math.sqrt(x * x + y * y)) / bias.reach;
}

function samplePoints(patch: Pattern): Points {
  return joined(
    interiorGrid(patch.outline, spacingFor(patch.outline, INSIDE)),
    boundaryPoints(patch.outline, ALONG_BOUNDARY),
  );
}

/**
 * Climbs (sign 1) or descends (sign −1) `slope` in eight directions, halving the step, without leaving the patch: a step over its edge
 * ends on the edge, and so follows a round one. The directions turn from step to step: none runs beside a narrow valley for long.
 */
function follow(
  { outline }: Pattern,
  slope: (at: Vec2) => number,
  start: Vec2,
  size: number,
  sign: 1 | -1,
): { at: Vec2; value: number } {
  const edge = boundaryOf(outline).flat();
  let [at, value] = [start, slope(start)];
  let turn = 0;
  for (let step = size / 16; step > size * LAST_STEP; ) {
    let moved = false;
    for (let k = 0; k < DIRECTIONS && !moved; k++) {
      const angle = (2 * Math.PI * k) / DIRECTIONS + turn;
      const aim: Vec2 = [at[0] + Math.cos(angle) * step, at[1] + Math.sin(angle) * step];
      const next = covers(outline, aim) ? aim : nearestOf(edge, aim);
      const there = slope(next);
      if (sign * (there - value) > 0) [at, value, moved] = [next, there, true];
    }
    turn += TURN;
    if (!moved) step /= 2;
  }
  return { at, value };
}

const DIRECTIONS = 8;
/** Of the directions from step to step: by the golden angle none comes again. */
const TURN = Math.PI * (3 - Math.sqrt(5));

const nearestOf = (edge: readonly Piece[], point: Vec2): Vec2 =>
  edge
    .map((piece) => nearestOn(piece, point))
    .reduce((best, one) => (distance2(one, point) < distance2(best, point) ? one : best));
