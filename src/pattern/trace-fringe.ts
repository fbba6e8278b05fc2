/**
 * One fringe Φ = L from edge to edge, by predictor and corrector; mm, waves.
 *
 * Travelling with higher Φ on the right, the tangent is (−Φ_y, Φ_x)/|∇Φ|. The predictor goes along the circle that the last
 * step's turn suggests, the corrector is Newton's method along ∇Φ. The step follows the turn of the tangent, so that the
 * cubic through the points (Hermite's, with the tangents) is good to a small part of a step; the fringe's end is one of the crossings
 * of the level with the edge, known beforehand (regions.ts).
 * Source: E. L. Allgower, K. Georg, Introduction to Numerical Continuation Methods (SIAM 2003), chapters 2 and 6.
 */
import { hypot2 } from '../geometry/vector.ts';
import { PHASE_ROUNDING, Probe, type SmoothPhase } from './smooth-phase.ts';

/** Turn of the tangent aimed at in one step, and the turn from which on a step is tried again (rad). */
const AIMED_TURN = 0.12;
const MOST_TURN = 0.25;
/** An end is taken for the fringe's own if a circular arc from the last point joins it to this (rad). */
const ARC_MATCH = 0.12;
/** How far the fringe half way along a step may be from the cubic, against the step, and its tangent from half of the turn (rad). */
const HALF_WAY_MOVED = 0.02;
const HALF_WAY_TURN = 0.06;
/** Newton's steps below this (mm) are the last: the error left is its square times the curvature. */
const LAST_CORRECTION = 1e-7;
const MOST_CORRECTIONS = 12;
/** Steps below this part of the distance between the ends mean that the fringe has been lost. */
const LEAST_STEP = 1e-9;
const MOST_STEPS = 200_000;

export class FringePath {
  x = new Float64Array(256);
  y = new Float64Array(256);
  /** Unit tangents. */
  tx = new Float64Array(256);
  ty = new Float64Array(256);
  count = 0;

  add(x: number, y: number, tx: number, ty: number): void {
    if (this.count === this.x.length) this.#grow();
    this.x[this.count] = x;
    this.y[this.count] = y;
    this.tx[this.count] = tx;
    this.ty[this.count++] = ty;
  }

  #grow(): void {
    for (const key of ['x', 'y', 'tx', 'ty'] as const) {
      const grown = new Float64Array(2 * this.count);
      grown.set(this[key]);
      this[key] = grown;
    }
  }
}

interface FringeEnd {
  readonly x: number;
  readonly y: number;
}

export class FringeTracer {
  readonly #probe: Probe;
  /** Of the point last corrected. */
  #x = 0;
  #y = 0;
  #tx = 0;
  #ty = 0;
  #moved = 0;
  /** How far two points of one fringe may seem apart by rounding alone, mm: next to a saddle, most. */
  #blur = 0;

  constructor(phase: SmoothPhase) {
    this.#probe = new Probe(phase);
  }

  /**
   * Follows the fringe from `start` into `path`, until it comes to one of `ends`, whose index is returned.
   * Throws a RangeError when it comes to none.
   */
  trace(level: number, start: FringeEnd, ends: readonly FringeEnd[], path: FringePath): number {
    path.count = 0;
    this.#arrive(start.x, start.y);
    path.add(start.x, start.y, this.#tx, this.#ty);
    let span = Number.POSITIVE_INFINITY;
    for (const end of ends) span = Math.min(span, hypot2(end.x - start.x, end.y - start.y));
    const least = LEAST_STEP * span;
    let step = span / 4;
    let bend = 0;
    while (path.count < MOST_STEPS) {
      const at = path.count - 1;
      const x = path.x[at]!;
      const y = path.y[at]!;
      const tx = path.tx[at]!;
      const ty = path.ty[at]!;
      const reached = this.#endReached(level, x, y, tx, ty, 2 * step, ends);
      if (reached >= 0) {
        path.add(ends[reached]!.x, ends[reached]!.y, this.#tx, this.#ty);
        return reached;
      }
      const sideways = (bend * step * step) / 2;
      const kept = this.#correct(level, x + step * tx - sideways * ty, y + step * ty + sideways * tx);
      const turn = turnBetween(tx, ty, this.#tx, this.#ty);
      const taken =
        kept &&
        Math.abs(turn) <= MOST_TURN &&
        this.#moved <= MOST_TURN * step + this.#blur &&
        this.#halfWay(level, x, y, tx, ty, turn);
      if (!taken) {
        step /= 2;
        bend /= 2;
        if (!(step > least)) break;
        continue;
      }
      path.add(this.#x, this.#y, this.#tx, this.#ty);
      bend = turn / hypot2(this.#x - x, this.#y - y);
      step *= Math.min(2, Math.max(0.5, AIMED_TURN / Math.max(Math.abs(turn), 1e-12)));
      step = Math.min(step, 0.6 * nearest(this.#x, this.#y, ends));
    }
    throw new RangeError(
      `the fringe at ${level} waves from (${start.x}, ${start.y}) mm was lost after ${path.count} steps; ` +
        'expected it to end on the edge of the patch',
    );
  }

  /**
   * Whether the fringe half way to the point last corrected is where the cubic is, with half of the turn done: else a step
   * has leapt from one branch to another, as near a saddle. The point last corrected stays.
   */
  #halfWay(level: number, x: number, y: number, tx: number, ty: number, turn: number): boolean {
    const endX = this.#x;
    const endY = this.#y;
    const endTx = this.#tx;
    const endTy = this.#ty;
    const chord = hypot2(endX - x, endY - y);
    const kept = this.#correct(
      level,
      (x + endX) / 2 + ((tx - endTx) * chord) / 8,
      (y + endY) / 2 + ((ty - endTy) * chord) / 8,
    );
    const right =
      kept &&
      this.#moved <= HALF_WAY_MOVED * chord + this.#blur &&
      Math.abs(turnBetween(tx, ty, this.#tx, this.#ty) - turn / 2) <= HALF_WAY_TURN;
    this.#x = endX;
    this.#y = endY;
    this.#tx = endTx;
    this.#ty = endTy;
    return right;
  }

  /** The nearest end that lies ahead within `reach` on the same arc; its tangent is left behind. */
  #endReached(
    level: number,
    x: number,
    y: number,
    tx: number,
    ty: number,
    reach: number,
    ends: readonly FringeEnd[],
  ): number {
    let found = -1;
    let nearest = reach;
    for (let k = 0; k < ends.length; k++) {
      const dx = ends[k]!.x - x;
      const dy = ends[k]!.y - y;
      const away = hypot2(dx, dy);
      if (away > nearest || tx * dx + ty * dy <= 0) continue;
      const turned = turnBetween(tx, ty, dx, dy);
      if (Math.abs(turned) > MOST_TURN) continue;
      this.#arrive(ends[k]!.x, ends[k]!.y);
      if (Math.abs(turnBetween(dx, dy, this.#tx, this.#ty) - turned) > ARC_MATCH) continue;
      this.#x = ends[k]!.x;
      this.#y = ends[k]!.y;
      if (this.#halfWay(level, x, y, tx, ty, turnBetween(tx, ty, this.#tx, this.#ty))) {
        found = k;
        nearest = away;
      }
    }
    if (found >= 0) this.#arrive(ends[found]!.x, ends[found]!.y);
    return found;
  }

  #arrive(x: number, y: number): void {
    this.#probe.at(x, y);
    const { gx, gy } = this.#probe;
    const slope = hypot2(gx, gy);
    this.#tx = -gy / slope;
    this.#ty = gx / slope;
  }

  #correct(level: number, x: number, y: number): boolean {
    const probe = this.#probe;
    const x0 = x;
    const y0 = y;
    for (let k = 0; k < MOST_CORRECTIONS; k++) {
      const miss = probe.at(x, y) - level;
      const { gx, gy } = probe;
      const square = gx * gx + gy * gy;
      const back = miss / square;
      x -= back * gx;
      y -= back * gy;
      if (Math.abs(miss) <= Math.max(LAST_CORRECTION * Math.sqrt(square), PHASE_ROUNDING)) {
        const slope = Math.sqrt(square);
        this.#x = x;
        this.#y = y;
        this.#tx = -gy / slope;
        this.#ty = gx / slope;
        this.#moved = hypot2(x - x0, y - y0);
        this.#blur = (2 * PHASE_ROUNDING) / slope;
        return true;
      }
    }
    return false;
  }
}

function nearest(x: number, y: number, ends: readonly FringeEnd[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const end of ends) least = Math.min(least, hypot2(end.x - x, end.y - y));
  return least;
}

/** The angle from one direction to another, counterclockwise positive. */
const turnBetween = (ax: number, ay: number, bx: number, by: number): number =>
  Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
