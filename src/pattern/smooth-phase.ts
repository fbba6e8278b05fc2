/**
 * A phase that fringes can be traced from: Φ in waves and ∇Φ in waves/mm at points of the pattern plane (mm), smooth all over
 * the plane around the region that is traced. A roof is two of them, one a side.
 */
import type { Bounds } from '../geometry/extent.ts';

export interface SmoothPhase {
  /** Φ and ∇Φ at each of the first `count` points, into `phase`, `gx` and `gy`. */
  evaluate(
    xs: Float64Array,
    ys: Float64Array,
    phase: Float64Array,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void;
  /** No second derivative of Φ along any direction in the rectangle is larger in magnitude, waves/mm². */
  curvatureBound(within: Bounds): number;
}

/**
 * Rounding of a phase in double precision, waves: that of a path of some metres, which has 10⁷ waves. Differences below it tell
 * nothing, and where the phase is nearly stationary they would look like distances.
 */
export const PHASE_ROUNDING = 5e-9;

/** A phase at one point at a time: `at` returns Φ and leaves ∇Φ of the point in the fields. */
export class Probe {
  readonly #phase: SmoothPhase;
  readonly #x = new Float64Array(1);
  readonly #y = new Float64Array(1);
  readonly #value = new Float64Array(1);
  readonly #gx = new Float64Array(1);
  readonly #gy = new Float64Array(1);
  gx = 0;
  gy = 0;

  constructor(phase: SmoothPhase) {
    this.#phase = phase;
  }

  at(x: number, y: number): number {
    this.#x[0] = x;
    this.#y[0] = y;
    this.#phase.evaluate(this.#x, this.#y, this.#value, this.#gx, this.#gy, 1);
    this.gx = this.#gx[0];
    this.gy = this.#gy[0];
    return this.#value[0];
  }
}

/** Points in typed arrays with the phase and gradient there, grown as needed: room for work done over and over. */
export class PointBatch {
  x = new Float64Array(0);
  y = new Float64Array(0);
  phase = new Float64Array(0);
  gx = new Float64Array(0);
  gy = new Float64Array(0);

  reserve(count: number): void {
    if (this.x.length >= count) return;
    const size = Math.max(64, 2 * count);
    for (const key of ['x', 'y', 'phase', 'gx', 'gy'] as const) this[key] = new Float64Array(size);
  }

  evaluate(phase: SmoothPhase, count: number): void {
    phase.evaluate(this.x, this.y, this.phase, this.gx, this.gy, count);
  }
}

/**
 * Turns the phases of the first `count` points, whose gradients are there too, into distances from the fringe `level`, mm,
 * positive toward higher Φ.
 */
export function toDistances(points: PointBatch, level: number, count: number): void {
  const { phase, gx, gy } = points;
  for (let i = 0; i < count; i++) {
    const miss = phase[i]! - level;
    const told = Math.max(0, Math.abs(miss) - PHASE_ROUNDING);
    phase[i] = (miss < 0 ? -told : told) / Math.sqrt(gx[i]! * gx[i]! + gy[i]! * gy[i]!);
  }
}
