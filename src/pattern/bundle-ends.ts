/**
 * Where the fringes of a bundle meet the edge of the patch: for every level the fraction of the run's piece, guessed by the
 * polynomial through the nodes' and then solved with the exact phase. mm, waves.
 */
import { hypot2 } from '../geometry/vector.ts';
import { raised } from '../quantity/power.ts';
import { spot } from './edge-piece.ts';
import { crossingOf, type Run } from './monotone-runs.ts';
import { PointBatch, Probe, type SmoothPhase } from './smooth-phase.ts';

export const NODES = 6;
/** Where such a polynomial strays most: half way, in the Chebyshev angle, between two nodes. */
export const CHECKED = [0.5, 2.5, 4.5] as const;

/**
 * Polynomials in the level through the values at six Chebyshev–Lobatto levels of a range; waves.
 * Source of the nodes and their error: L. N. Trefethen, Approximation Theory and Approximation Practice (SIAM 2013), chapters 2 to 8.
 */
export class LevelPolynomial {
  readonly levels = new Float64Array(NODES);
  /** Lagrange's, at the level last given to `weigh`. */
  readonly weights = new Float64Array(NODES);

  span(from: number, to: number): void {
    this.levels[0] = from;
    this.levels[NODES - 1] = to;
    for (let j = 1; j < NODES - 1; j++) this.levels[j] = this.levelAt(j);
  }

  /** The level at a position from 0 to NODES − 1 in equal steps of the Chebyshev angle. */
  levelAt(position: number): number {
    const from = this.levels[0]!;
    const to = this.levels[NODES - 1]!;
    return from + ((to - from) * (1 - Math.cos((Math.PI * position) / (NODES - 1)))) / 2;
  }

  weigh(level: number): void {
    const { levels, weights } = this;
    for (let j = 0; j < NODES; j++) {
      let weight = 1;
      for (let m = 0; m < NODES; m++) if (m !== j) weight *= (level - levels[m]!) / (levels[j]! - levels[m]!);
      weights[j] = weight;
    }
  }

  /** The value at the level weighed, from those at the nodes, which stand in `values` from `start` on. */
  value(values: Float64Array, start = 0): number {
    let sum = 0;
    for (let j = 0; j < NODES; j++) sum += this.weights[j]! * values[start + j]!;
    return sum;
  }
}

export interface Offsets {
  /** mm toward higher Φ, of the edges where a zone starts (Φ = k) and where it ends (Φ = k + duty). */
  readonly lower: number;
  readonly upper: number;
}

/** An end of a fringe guessed this well (mm) is exact after one step of Newton's method. */
const GUESS = 2e-5;
/** With an edge shift |∇Φ| at the moved end counts, too. */
const STEPS_WITH_BIAS = 3;

export class BundleEnds {
  readonly #phase: SmoothPhase;
  readonly #polynomial: LevelPolynomial;
  readonly #offsets: Offsets;
  readonly #probe: Probe;
  readonly #points = new PointBatch();
  readonly #upNodes = new Float64Array(NODES);
  readonly #downNodes = new Float64Array(NODES);
  #up!: Run;
  #down!: Run;
  #miss = 0;

  constructor(phase: SmoothPhase, polynomial: LevelPolynomial, offsets: Offsets) {
    this.#phase = phase;
    this.#polynomial = polynomial;
    this.#offsets = offsets;
    this.#probe = new Probe(phase);
  }

  get up(): Run {
    return this.#up;
  }

  get down(): Run {
    return this.#down;
  }

  /** By how much the polynomial's range could be wider (or must be narrower) for good guesses. */
  get room(): number {
    return raised(GUESS / Math.max(this.#miss, 1e-12), 1 / NODES);
  }

  /** Takes up two runs over the polynomial's range; false where the polynomial does not tell the ends between the nodes. */
  fit(up: Run, down: Run): boolean {
    this.#up = up;
    this.#down = down;
    const { levels } = this.#polynomial;
    for (let j = 0; j < NODES; j++) {
      this.#upNodes[j] = crossingOf(up, levels[j]!, this.#probe);
      this.#downNodes[j] = crossingOf(down, levels[j]!, this.#probe);
    }
    this.#miss = 0;
    for (const position of CHECKED) {
      const level = this.#polynomial.levelAt(position);
      this.#polynomial.weigh(level);
      this.#miss = Math.max(
        this.#miss,
        this.#missOn(up, this.#upNodes, level),
        this.#missOn(down, this.#downNodes, level),
      );
    }
    return this.#miss <= GUESS;
  }

  /** The fractions at one of the nodes. */
  atNode(node: number): { up: number; down: number } {
    return { up: this.#upNodes[node]!, down: this.#downNodes[node]! };
  }

  /**
   * The fractions where the edges of zones end: for each zone four, upper edge on `up` and on `down`, lower edge on `down` and
   * on `up`. `levels` has upper and lower level of each zone by turns.
   */
  solve(levels: Float64Array, zones: number, out: Float64Array): void {
    const points = this.#points;
    const count = 4 * zones;
    points.reserve(count);
    for (let k = 0; k < 2 * zones; k++) {
      this.#polynomial.weigh(levels[k]!);
      const lower = k & 1;
      out[2 * k + lower] = this.#polynomial.value(this.#upNodes);
      out[2 * k + 1 - lower] = this.#polynomial.value(this.#downNodes);
    }
    const { lower, upper } = this.#offsets;
    const steps = lower === 0 && upper === 0 ? 1 : STEPS_WITH_BIAS;
    for (let step = 0; step < steps; step++) {
      for (let k = 0; k < count; k++) {
        this.#runOf(k).edge.place(out[k]!);
        points.x[k] = spot.x;
        points.y[k] = spot.y;
      }
      points.evaluate(this.#phase, count);
      for (let k = 0; k < count; k++) {
        const run = this.#runOf(k);
        run.edge.place(out[k]!);
        const gx = points.gx[k]!;
        const gy = points.gy[k]!;
        const offset = k & 2 ? lower : upper;
        const wanted = levels[k >> 1]! + (offset === 0 ? 0 : offset * Math.sqrt(gx * gx + gy * gy));
        const moved = out[k]! - (points.phase[k]! - wanted) / (gx * spot.dx + gy * spot.dy);
        out[k] = moved > run.from ? Math.min(moved, run.to) : run.from;
      }
    }
  }

  #runOf(k: number): Run {
    const end = k & 3;
    return end === 0 || end === 3 ? this.#up : this.#down;
  }

  /** How far, mm, the polynomial is from the end at the level weighed. */
  #missOn(run: Run, nodes: Float64Array, level: number): number {
    const fraction = crossingOf(run, level, this.#probe);
    run.edge.place(fraction);
    return Math.abs(this.#polynomial.value(nodes) - fraction) * hypot2(spot.dx, spot.dy);
  }
}
