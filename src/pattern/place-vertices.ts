/**
 * Vertices of one fringe, as few as the bound allows; mm, waves.
 *
 * A chord of length s over a curvature κ strays by s²κ/8. With the vertices set outward by half of that, the polygon lies as
 * far outside the fringe at its vertices as inside it in the middle of its sides, s²κ/16: so s ∝ κ^(−1/2), and n follows from the
 * integral of κ^½ along the fringe. The ends stay on the edge of the patch and their sides are shorter by END_SIDE. The
 * chords' true deviations are then measured with the exact phase, in the middle of each, and n raised until they fit.
 */
import { hypot2 } from '../geometry/vector.ts';
import { PointBatch, type SmoothPhase, toDistances } from './smooth-phase.ts';
import type { FringePath } from './trace-fringe.ts';

/**
 * Length of a first or last side, one end of which stays on the fringe, against the others: with b the bow of those and B that of
 * its own, END_SIDE²·b, its worst deviation B − b/4 + b/(64·B/b), nearer to that end than to its middle, must not be more than b/2.
 */
const END_SIDE = 0.845;
/** The share of the bound that n is chosen for; the rest is for curvature changing along a side. */
const AIM = 0.98;
/** Curvatures are told apart down to that of a fringe this small part of the bound away from straight. */
const STRAIGHT = 1e-3;
const MOST_ROUNDS = 10;
/** Newton's steps below this (mm) are the last. */
export const LAST_CORRECTION = 1e-7;

/** Fringe's points placed between its ends, and their weights: ∫κ^½ds up to each point of the path. */
export class VertexPlacer {
  readonly #phase: SmoothPhase;
  readonly #tolerance: number;
  readonly #vertices = new PointBatch();
  readonly #middles = new PointBatch();
  #weights = new Float64Array(0);

  constructor(phase: SmoothPhase, tolerance: number) {
    this.#phase = phase;
    this.#tolerance = tolerance;
  }

  /** Sides needed, by the integral of κ^½ along the path; `weigh` leaves the running integral behind. */
  sides(path: FringePath): number {
    const total = this.#weigh(path);
    const allowed = AIM * this.#tolerance;
    if (total <= Math.sqrt(8 * allowed)) return 1;
    return Math.ceil(total / Math.sqrt(16 * allowed) + 2 * (1 - END_SIDE));
  }

  /**
   * The vertices of the fringe `level` along the path, `sides` of them or more, into `out` from vertex 0 on (x, y by turns);
   * `offset` (mm) moves the fringe toward higher Φ. Returns the count of vertices, ends included, and the worst deviation.
   */
  place(path: FringePath, level: number, offset: number, out: PointBatch): { count: number; worst: number } {
    let sides = this.sides(path);
    for (let round = 0; ; round++) {
      const worst = this.#balance(path, level, offset, sides, out);
      if (worst <= this.#tolerance) return { count: sides + 1, worst };
      if (round === MOST_ROUNDS)
        throw new RangeError(
          `the fringe at ${level} waves strays by ${worst} mm with ${sides} sides; expected at most ${this.#tolerance} mm`,
        );
      sides = Math.max(sides + 1, Math.ceil(sides * Math.min(3, 1.01 * Math.sqrt(worst / this.#tolerance))));
    }
  }

  /** `sides` − 1 points of the fringe between the ends, at even parts of the integral of κ^½, into x and y from index 1. */
  spread(path: FringePath, level: number, sides: number, x: Float64Array, y: Float64Array): void {
    const total = this.#weigh(path);
    const inner = this.#vertices;
    const count = sides - 1;
    if (count === 0) return;
    inner.reserve(count);
    const unit = total / (sides - 2 * (1 - END_SIDE));
    for (let i = 0, k = 0; i < count; i++) {
      const wanted = (i + END_SIDE) * unit;
      while (k + 2 < path.count && this.#weights[k + 1]! < wanted) k++;
      const from = this.#weights[k]!;
      const to = this.#weights[k + 1]!;
      hermite(path, k, (wanted - from) / (to - from), inner, i);
    }
    this.#correct(level, count);
    for (let i = 0; i < count; i++) {
      x[i + 1] = inner.x[i]!;
      y[i + 1] = inner.y[i]!;
    }
  }

  #balance(path: FringePath, level: number, offset: number, sides: number, out: PointBatch): number {
    out.reserve(sides + 1);
    const { x, y } = out;
    const last = path.count - 1;
    x[0] = path.x[0]!;
    y[0] = path.y[0]!;
    x[sides] = path.x[last]!;
    y[sides] = path.y[last]!;
    this.spread(path, level, sides, x, y);
    const inner = this.#vertices;
    const bow = this.#middles;
    bow.reserve(sides);
    for (let i = 0; i < sides; i++) {
      bow.x[i] = (x[i]! + x[i + 1]!) / 2;
      bow.y[i] = (y[i]! + y[i + 1]!) / 2;
    }
    bow.evaluate(this.#phase, sides);
    toDistances(bow, level, sides);
    let worst = 0;
    let before = 0;
    for (let i = 0; i < sides; i++) {
      const after = i + 1 < sides ? balance(bow.phase, i + 1, sides) : 0;
      worst = Math.max(worst, worstOfSide(before, bow.phase[i]! + (before + after) / 2, after));
      before = after;
      if (i + 1 === sides) break;
      const slope = hypot2(inner.gx[i]!, inner.gy[i]!);
      x[i + 1] += ((after + offset) * inner.gx[i]!) / slope;
      y[i + 1] += ((after + offset) * inner.gy[i]!) / slope;
    }
    return worst;
  }

  #correct(level: number, count: number): void {
    const inner = this.#vertices;
    for (let round = 0; round < 8; round++) {
      inner.evaluate(this.#phase, count);
      let moved = 0;
      for (let i = 0; i < count; i++) {
        const gx = inner.gx[i]!;
        const gy = inner.gy[i]!;
        const square = gx * gx + gy * gy;
        const miss = inner.phase[i]! - level;
        inner.x[i] -= (miss * gx) / square;
        inner.y[i] -= (miss * gy) / square;
        moved = Math.max(moved, (miss * miss) / square);
      }
      if (moved <= LAST_CORRECTION * LAST_CORRECTION) return;
    }
  }

  #weigh(path: FringePath): number {
    if (this.#weights.length < path.count) this.#weights = new Float64Array(2 * path.count);
    const weights = this.#weights;
    const { x, y, tx, ty, count } = path;
    let length = 0;
    for (let k = 1; k < count; k++) length += hypot2(x[k]! - x[k - 1]!, y[k]! - y[k - 1]!);
    const least = (STRAIGHT * this.#tolerance) / (length * length);
    weights[0] = 0;
    for (let k = 1; k < count; k++) {
      const turn = Math.atan2(
        tx[k - 1]! * ty[k]! - ty[k - 1]! * tx[k]!,
        tx[k - 1]! * tx[k]! + ty[k - 1]! * ty[k]!,
      );
      const step = hypot2(x[k]! - x[k - 1]!, y[k]! - y[k - 1]!);
      weights[k] = weights[k - 1]! + Math.sqrt(step * (Math.abs(turn) + least * step));
    }
    return weights[count - 1]!;
  }
}

/** The point at the fraction `u` of step k of the path, on the cubic through its ends with their tangents. */
function hermite(path: FringePath, k: number, u: number, out: PointBatch, i: number): void {
  const { x, y, tx, ty } = path;
  const chord = hypot2(x[k + 1]! - x[k]!, y[k + 1]! - y[k]!);
  const v = 1 - u;
  const a = u * v * v * chord;
  const b = -u * u * v * chord;
  const s = u * u * (3 - 2 * u);
  out.x[i] = x[k]! + s * (x[k + 1]! - x[k]!) + a * tx[k]! + b * tx[k + 1]!;
  out.y[i] = y[k]! + s * (y[k + 1]! - y[k]!) + a * ty[k]! + b * ty[k + 1]!;
}

/**
 * How far (mm, toward higher Φ) vertex i of a fringe of so many sides is set off it, from the bows of the sides before and after it:
 * half a bow outward. Next to an end the shorter side does not count.
 */
export function balance(bows: Float64Array, i: number, sides: number): number {
  const before = bows[i === 1 && sides > 2 ? i : i - 1]!;
  const after = bows[i === sides - 1 && sides > 2 ? i - 1 : i]!;
  return -(before + after) / 4;
}

/**
 * The worst deviation of a side from a fringe that it bows against like a parabola, from the deviations of its ends and its middle:
 * where the ends differ it lies nearer to one of them.
 */
export function worstOfSide(from: number, middle: number, to: number): number {
  const bow = middle - (from + to) / 2;
  const skew = to - from;
  const within = Math.abs(skew) < 4 * Math.abs(bow) ? middle + (skew * skew) / (16 * bow) : middle;
  return Math.max(Math.abs(from), Math.abs(within), Math.abs(to));
}
