/**
 * A patch divided so that its fringes are simple, and the proof that none is missed.
 *
 * The patch is cut along a roof's ridge, through the hole of a ring and through every stationary point of Φ
 * (stationary-points.ts). Each region left is simply connected, and ∇Φ ≠ 0 inside it. Then every fringe, a component of
 * Φ = L in a region, runs from edge to edge: a closed one would enclose an extreme of Φ, where ∇Φ = 0, or a hole.
 * So the crossings of the level with the edge are the ends of all fringes there are. Along the edge Φ is divided into monotone
 * runs (monotone-runs.ts), each with exactly one crossing of a level between its end values and none of another: all
 * crossings are found by counting, not by looking. The same argument rules out holes in a written zone of a region.
 *
 * Between two neighbouring values that Φ takes at ends of runs, every level crosses the same runs, and its fringes join the
 * same pairs of them, since they could only change partners at a stationary point or at the end of a run: a band.
 */
import type { Pattern } from '../design/pattern.ts';
import type { Outline } from '../geometry/outline.ts';
import { type Loop, pointAlong } from '../geometry/piece.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { trimmed } from '../quantity/format.ts';
import { cutByLine, type Line, loopBounds, loopsWithoutHole, wellInside } from './cut-region.ts';
import { monotoneRuns, type PhaseBounds, type Run } from './monotone-runs.ts';
import { Probe, type SmoothPhase } from './smooth-phase.ts';
import { cutsThroughStationaryPoints } from './stationary-points.ts';

export interface Region {
  readonly phase: SmoothPhase;
  /** Counterclockwise, end to end. */
  readonly runs: readonly Run[];
  /** The values of Φ at the ends of runs, ascending: the bands' limits. */
  readonly limits: Float64Array;
  /** The values of Φ at stationary points on its edge or near by. */
  readonly stationary: readonly number[];
  /** Where those are. */
  readonly stationaryAt: readonly Vec2[];
  /** Bound of |∇Φ| over the region, waves/mm. */
  readonly slope: number;
}

/** What is to be traced: an outline with the phase on it, or on either side of a ridge. */
export interface PhasedOutline {
  readonly outline: Outline;
  /** Left of the ridge, or everywhere. */
  readonly phase: SmoothPhase;
  readonly ridge?: { readonly line: Line; readonly rightPhase: SmoothPhase };
}

/** A patch with its phase, on both sides of the ridge where it has one. */
export function phasedOutlineOf(patch: Pattern): PhasedOutline {
  const { outline, phase, bias } = patch;
  if (bias?.shape !== 'roof') return { outline, phase };
  const [dx, dy] = bias.direction;
  const size = Math.sqrt(dx * dx + dy * dy);
  // w > 0 is on the left of the ridge so directed.
  const line = { at: bias.centre, along: [dy / size, -dx / size] as const };
  return { outline, phase: phase.onSide(1), ridge: { line, rightPhase: phase.onSide(-1) } };
}

/** A stationary point nearer than this to a region's edge (mm) needs no cut: a fringe closed around it has no size. */
const AT_EDGE = 1e-7;
/** A phase that cannot vary by this many waves over a region has no fringe there: written whole or not at all. */
const FLAT = 1e-6;
/** A region without a bound on Φ'' is halved so often at the most: parts of 1/64 of its size each way. */
const MOST_HALVINGS = 12;
/** Bound of |∇Φ| over a part against the slopes on its edge, at the most, where there are halvings left. */
const TIGHT = 2;

export function regionsOf({ outline, phase, ridge }: PhasedOutline): readonly Region[] {
  const whole = loopsWithoutHole(outline, (hole) => gradientDirection(phase, hole));
  if (ridge === undefined) return whole.flatMap((loop) => regionsWithin(outline, loop, phase));
  const sides = whole.map((loop) => cutByLine([loop], ridge.line));
  return [
    ...sides.flatMap(({ left }) => left.flatMap((loop) => regionsWithin(outline, loop, phase))),
    ...sides.flatMap(({ right }) => right.flatMap((loop) => regionsWithin(outline, loop, ridge.rightPhase))),
  ];
}

/** Across the fringes where there are any: the cut meets them squarely. */
function gradientDirection(phase: SmoothPhase, [x, y]: Vec2): Vec2 {
  const probe = new Probe(phase);
  probe.at(x, y);
  const size = Math.hypot(probe.gx, probe.gy);
  return size > 0 ? [probe.gx / size, probe.gy / size] : [1, 0];
}

function regionsWithin(outline: Outline, loop: Loop, phase: SmoothPhase): readonly Region[] {
  return boundedParts(loop, phase).flatMap((part) => regionsOfPart(outline, part, phase));
}

/**
 * The loop itself where Φ'' is bounded over its box. A ring around the axis of a cone or a torus has the axis in its box, though
 * not in itself: it is halved until the box of each part is clear of the axis.
 * Throws a RangeError where the axis, or another place without a bound, lies in the loop.
 */
function boundedParts(loop: Loop, phase: SmoothPhase): readonly Loop[] {
  if (Number.isFinite(phase.curvatureBound(loopBounds(loop)))) return [loop];
  const done: Loop[] = [];
  let left: readonly Loop[] = [loop];
  for (let halved = 0; halved < MOST_HALVINGS && left.length > 0; halved++) {
    left = left.flatMap(halves).filter((part) => {
      if (!isTight(part, phase)) return true;
      done.push(part);
      return false;
    });
  }
  for (const part of left) phaseBounds(part, phase);
  return [...done, ...left];
}

/** Across the longer side of its box. */
function halves(loop: Loop): readonly Loop[] {
  const { minX, maxX, minY, maxY } = loopBounds(loop);
  const along: Vec2 = maxX - minX > maxY - minY ? [0, 1] : [1, 0];
  const { left, right } = cutByLine([loop], { at: [(minX + maxX) / 2, (minY + maxY) / 2], along });
  return [...left, ...right];
}

/** Whether the bound of |∇Φ| over the part's box is not far above the slopes there: it sets how finely fringes are traced. */
function isTight(loop: Loop, phase: SmoothPhase): boolean {
  if (!Number.isFinite(phase.curvatureBound(loopBounds(loop)))) return false;
  const probe = new Probe(phase);
  const slopes = loop.map((piece) => {
    const [x, y] = pointAlong(piece, 0.5);
    probe.at(x, y);
    return Math.hypot(probe.gx, probe.gy);
  });
  return phaseBounds(loop, phase).slope <= TIGHT * Math.max(...slopes);
}

function regionsOfPart(outline: Outline, loop: Loop, phase: SmoothPhase): readonly Region[] {
  const bounds = phaseBounds(loop, phase);
  let loops: readonly Loop[] = [loop];
  const { minX, maxX, minY, maxY } = loopBounds(loop);
  const flat = bounds.slope * Math.hypot(maxX - minX, maxY - minY) < FLAT;
  const cuts = flat ? [] : cutsThroughStationaryPoints(outline, loopBounds(loop), phase);
  for (const { line, places } of cuts)
    loops = loops.flatMap((loop) => {
      if (!places.some((place) => wellInside(loop, place, AT_EDGE))) return [loop];
      const { left, right } = cutByLine([loop], line);
      return [...left, ...right];
    });
  const probe = new Probe(phase);
  const stationaryAt = cuts.flatMap(({ places }) => places);
  const stationary = stationaryAt.map(([x, y]) => probe.at(x, y));
  return loops.map((loop) => {
    const runs = monotoneRuns(loop, phase, bounds);
    const limits = ascending(runs.map((run) => run.start));
    return { phase, runs, limits, stationary, stationaryAt, slope: bounds.slope };
  });
}

/** Each value once. */
export const ascending = (values: readonly number[]): Float64Array =>
  Float64Array.from(new Set(values)).sort();

const mm = (value: number): string => trimmed(value, 4);

/** From the middle of the region's box outward. Throws a RangeError where Φ'' has no bound: a line focus in the pattern's plane. */
function phaseBounds(loop: Loop, phase: SmoothPhase): PhaseBounds {
  const { minX, maxX, minY, maxY } = loopBounds(loop);
  const curvature = phase.curvatureBound({ minX, maxX, minY, maxY });
  if (!Number.isFinite(curvature))
    throw new RangeError(
      `the phase between x ${mm(minX)} and ${mm(maxX)} mm, y ${mm(minY)} and ${mm(maxY)} mm has no bound on its curvature; ` +
        'expected a focus, and the axis of a cone or a torus, well away from the area that is traced',
    );
  const probe = new Probe(phase);
  probe.at((minX + maxX) / 2, (minY + maxY) / 2);
  const slope = Math.hypot(probe.gx, probe.gy) + (curvature * Math.hypot(maxX - minX, maxY - minY)) / 2;
  return { curvature, slope };
}
