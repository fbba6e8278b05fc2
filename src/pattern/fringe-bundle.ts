/**
 * Many neighbouring fringes of one family at once; mm, waves.
 *
 * The first and the last fringe of a bundle are traced (trace-fringe.ts) and given vertices by the same rule; straight rails join
 * the corresponding ones. On a rail every fringe between has one vertex, at the parameter t(L), an analytic function of the
 * level L alone: it is solved with the exact phase at the six Chebyshev–Lobatto levels of the bundle and interpolated by the
 * polynomial through them. Then the phase is taken at every vertex, and in the middle of every side, of three
 * fringes half way between those levels, where the polynomial strays most: the bundle stands only if all of them keep the
 * bound, else it is halved. Ends on the edge of the patch are not interpolated: each is solved with the exact phase.
 * Source of the nodes and their error: L. N. Trefethen, Approximation Theory and Approximation Practice (SIAM 2013), chapters 2 to 8.
 */
import { type Pair, pointOf } from './bands.ts';
import { crossingOf, place, type Run, spot } from './monotone-runs.ts';
import { LAST_CORRECTION, VertexPlacer } from './place-vertices.ts';
import type { Region } from './regions.ts';
import { PHASE_ROUNDING, PointBatch, Probe, toDistances } from './smooth-phase.ts';
import { FringePath, FringeTracer } from './trace-fringe.ts';
import type { ZoneOutline } from './zone-outline.ts';

const NODES = 6;
/** Fringes on which a bundle is checked: half way, in the Chebyshev angle, between two nodes. */
const CHECKED = [0.5, 2.5, 4.5];
/** Rails must cross the fringes, if only at this cosine to ∇Φ: how tame t(L) is, the fringes checked say. */
const LEAST_CROSSING = 0.01;
const MOST_ROUNDS = 12;
/** An end of a fringe guessed this well (mm) is exact after one step of Newton's method. */
const GUESS = 2e-5;
/** Fringes of one bundle have as many sides as the one that needs the most: none may need fewer by more than this part, and one. */
const UNEVEN = 0.05;
/** Tries with more sides before a bundle is halved. */
const TRIES = 3;

export interface Offsets {
  /** mm toward higher Φ, of the edges where a zone starts (Φ = k) and where it ends (Φ = k + duty). */
  readonly lower: number;
  readonly upper: number;
}

export class FringeBundle {
  readonly #region: Region;
  readonly #tolerance: number;
  readonly #offsets: Offsets;
  readonly #probe: Probe;
  readonly #tracer: FringeTracer;
  readonly #placer: VertexPlacer;
  readonly #first = new FringePath();
  readonly #last = new FringePath();
  readonly #points = new PointBatch();
  readonly #middles = new PointBatch();
  readonly #levels = new Float64Array(NODES);
  readonly #weights = new Float64Array(NODES);
  readonly #upNodes = new Float64Array(NODES);
  readonly #downNodes = new Float64Array(NODES);
  #up!: Run;
  #down!: Run;
  #sides = 0;
  #endMiss = 0;
  /** Difference of the sides that the first and the last fringe need, against the most allowed. */
  #unevenness = 0;
  /** Rails by vertex, from 1 on: start and run; t at the nodes, one after the other, moved for either kind of edge. */
  #railX = new Float64Array(0);
  #railY = new Float64Array(0);
  #runX = new Float64Array(0);
  #runY = new Float64Array(0);
  #lower = new Float64Array(0);
  #upper = new Float64Array(0);
  /** Largest deviation met on the fringes checked, mm. */
  worst = 0;

  constructor(region: Region, tolerance: number, offsets: Offsets) {
    this.#region = region;
    this.#tolerance = tolerance;
    this.#offsets = offsets;
    this.#probe = new Probe(region.phase);
    this.#tracer = new FringeTracer(region.phase);
    this.#placer = new VertexPlacer(region.phase, tolerance);
  }

  /** Sides of every fringe edge in the bundle. */
  get sides(): number {
    return this.#sides;
  }

  /** By how much the bundle last tried could be thicker (or must be thinner), as its ends and its sides let expect. */
  get room(): number {
    const byEnds = (GUESS / Math.max(this.#endMiss, 1e-12)) ** (1 / NODES);
    return 0.9 * Math.min(byEnds, 1 / Math.max(this.#unevenness, 0.1));
  }

  /** Takes up the fringes of a family from one level to another; false where they are too many to be told from six. */
  fit(pair: Pair, from: number, to: number): boolean {
    this.#up = this.#region.runs[pair.up]!;
    this.#down = this.#region.runs[pair.down]!;
    for (let j = 0; j < NODES; j++) {
      const level = j === NODES - 1 ? to : chebyshevLevel(from, to, j);
      this.#levels[j] = level;
      this.#upNodes[j] = crossingOf(this.#up, level, this.#probe);
      this.#downNodes[j] = crossingOf(this.#down, level, this.#probe);
    }
    if (!this.#endsGuessed(from, to)) return false;
    const last = NODES - 1;
    this.#trace(from, 0, this.#first);
    this.#trace(to, last, this.#last);
    const [fewer, more] = [this.#placer.sides(this.#first), this.#placer.sides(this.#last)].sort(
      (a, b) => a - b,
    ) as [number, number];
    this.#unevenness = (more - fewer) / (UNEVEN * more + 1);
    if (this.#unevenness > 1) return false;
    let sides = more;
    for (let attempt = 0; attempt < TRIES; attempt++) {
      if (!this.#layRails(from, to, sides)) return false;
      const worst = this.#check(from, to);
      if (worst <= this.#tolerance) {
        this.worst = Math.max(this.worst, worst);
        return true;
      }
      if (worst > 2 * this.#tolerance) return false;
      sides = Math.max(sides + 1, Math.ceil(sides * 1.01 * Math.sqrt(worst / this.#tolerance)));
    }
    return false;
  }

  /**
   * The fractions of the two runs' pieces where the edges of zones end: for each zone four, upper edge on `up` and on `down`,
   * lower edge on `down` and on `up`. `levels` has upper and lower level of each zone by turns.
   */
  ends(levels: Float64Array, zones: number, out: Float64Array): void {
    const points = this.#points;
    const count = 4 * zones;
    points.reserve(count);
    for (let k = 0; k < 2 * zones; k++) {
      this.#weigh(levels[k]!);
      const [up, down] = [this.#interpolated(this.#upNodes), this.#interpolated(this.#downNodes)];
      const swapped = k & 1;
      out[2 * k + swapped] = up;
      out[2 * k + 1 - swapped] = down;
    }
    const { lower, upper } = this.#offsets;
    const rounds = lower === 0 && upper === 0 ? 1 : 3;
    for (let round = 0; round < rounds; round++) {
      for (let k = 0; k < count; k++) {
        place(this.#runOfEnd(k).piece, out[k]!);
        points.x[k] = spot.x;
        points.y[k] = spot.y;
      }
      points.evaluate(this.#region.phase, count);
      for (let k = 0; k < count; k++) {
        const run = this.#runOfEnd(k);
        place(run.piece, out[k]!);
        const gx = points.gx[k]!;
        const gy = points.gy[k]!;
        const offset = k & 2 ? lower : upper;
        const wanted = levels[k >> 1]! + (offset === 0 ? 0 : offset * Math.sqrt(gx * gx + gy * gy));
        const moved = out[k]! - (points.phase[k]! - wanted) / (gx * spot.dx + gy * spot.dy);
        out[k] = moved > run.from ? Math.min(moved, run.to) : run.from;
      }
    }
  }

  /** Appends a zone's outline: the upper edge forward, the patch's edge, the lower edge backward, the patch's edge. */
  append(upper: number, lower: number, ends: Float64Array, zone: number, outline: ZoneOutline): void {
    const at = 4 * zone;
    outline.reserve(2 * (this.#sides + 1));
    outline.addPlace(this.#up, ends[at]!);
    this.#addInner(upper, this.#upper, 1, outline);
    outline.addPlace(this.#down, ends[at + 1]!);
    outline.addAlong(this.#down, ends[at + 1]!, ends[at + 2]!, this.#tolerance);
    outline.reserve(this.#sides + 1);
    outline.addPlace(this.#down, ends[at + 2]!);
    this.#addInner(lower, this.#lower, -1, outline);
    outline.addPlace(this.#up, ends[at + 3]!);
    outline.addAlong(this.#up, ends[at + 3]!, ends[at]!, this.#tolerance);
  }

  #runOfEnd(k: number): Run {
    const end = k & 3;
    return end === 0 || end === 3 ? this.#up : this.#down;
  }

  #addInner(level: number, nodes: Float64Array, direction: 1 | -1, outline: ZoneOutline): void {
    this.#weigh(level);
    const w = this.#weights;
    const w0 = w[0]!;
    const w1 = w[1]!;
    const w2 = w[2]!;
    const w3 = w[3]!;
    const w4 = w[4]!;
    const w5 = w[5]!;
    const [railX, railY, runX, runY] = [this.#railX, this.#railY, this.#runX, this.#runY];
    const { xy } = outline;
    let used = outline.used;
    const inner = this.#sides - 1;
    let i = direction === 1 ? 1 : inner;
    for (let k = 0; k < inner; k++, i += direction) {
      const j = NODES * i;
      const t =
        w0 * nodes[j]! +
        w1 * nodes[j + 1]! +
        w2 * nodes[j + 2]! +
        w3 * nodes[j + 3]! +
        w4 * nodes[j + 4]! +
        w5 * nodes[j + 5]!;
      xy[used] = railX[i]! + t * runX[i]!;
      xy[used + 1] = railY[i]! + t * runY[i]!;
      used += 2;
    }
    outline.used = used;
  }

  #trace(level: number, node: number, path: FringePath): void {
    const start = pointOf(this.#up, this.#upNodes[node]!);
    this.#tracer.trace(level, start, [pointOf(this.#down, this.#downNodes[node]!)], path);
  }

  /** Whether the polynomials through the ends at the nodes tell the ends between, on the fringes to be checked. */
  #endsGuessed(from: number, to: number): boolean {
    this.#endMiss = 0;
    this.#unevenness = 0;
    for (const position of CHECKED) {
      const level = chebyshevLevel(from, to, position);
      this.#weigh(level);
      for (const [run, nodes] of [
        [this.#up, this.#upNodes],
        [this.#down, this.#downNodes],
      ] as const) {
        const fraction = crossingOf(run, level, this.#probe);
        place(run.piece, fraction);
        const miss = Math.abs(this.#interpolated(nodes) - fraction) * Math.hypot(spot.dx, spot.dy);
        this.#endMiss = Math.max(this.#endMiss, miss);
        if (miss > GUESS) return false;
      }
    }
    return true;
  }

  #layRails(from: number, to: number, sides: number): boolean {
    this.#sides = sides;
    this.#reserve(sides + 1);
    this.#placer.spread(this.#first, from, sides, this.#railX, this.#railY);
    this.#placer.spread(this.#last, to, sides, this.#runX, this.#runY);
    for (let i = 1; i < sides; i++) {
      this.#runX[i] -= this.#railX[i]!;
      this.#runY[i] -= this.#railY[i]!;
    }
    for (let j = 0; j < NODES; j++)
      if (!this.#solveNode(j, (this.#levels[j]! - from) / (to - from))) return false;
    return true;
  }

  /** t on every rail at one node's level, balanced about the fringe (place-vertices.ts). */
  #solveNode(node: number, guess: number): boolean {
    const level = this.#levels[node]!;
    const sides = this.#sides;
    const points = this.#points;
    points.reserve(sides + 1);
    const [railX, railY, runX, runY] = [this.#railX, this.#railY, this.#runX, this.#runY];
    const t = this.#lower;
    for (let i = 1; i < sides; i++) t[NODES * i + node] = guess;
    for (let round = 0, moved = Number.POSITIVE_INFINITY; moved > LAST_CORRECTION; round++) {
      if (round === MOST_ROUNDS) return false;
      for (let i = 1; i < sides; i++) {
        points.x[i - 1] = railX[i]! + t[NODES * i + node]! * runX[i]!;
        points.y[i - 1] = railY[i]! + t[NODES * i + node]! * runY[i]!;
      }
      points.evaluate(this.#region.phase, sides - 1);
      moved = 0;
      for (let i = 1; i < sides; i++) {
        const gx = points.gx[i - 1]!;
        const gy = points.gy[i - 1]!;
        const dx = runX[i]!;
        const dy = runY[i]!;
        const rate = gx * dx + gy * dy;
        const slope = Math.sqrt(gx * gx + gy * gy);
        const length = Math.sqrt(dx * dx + dy * dy);
        if (!(rate >= LEAST_CROSSING * slope * length)) return false;
        const miss = points.phase[i - 1]! - level;
        t[NODES * i + node] -= miss / rate;
        if (Math.abs(miss) > PHASE_ROUNDING) moved = Math.max(moved, (Math.abs(miss) / rate) * length);
      }
    }
    this.#deviations(node, level);
    const bow = this.#middles.phase;
    const { lower, upper } = this.#offsets;
    for (let i = 1; i < sides; i++) {
      const gx = points.gx[i - 1]!;
      const gy = points.gy[i - 1]!;
      // t for each mm toward higher Φ.
      const perMm = Math.sqrt(gx * gx + gy * gy) / (gx * runX[i]! + gy * runY[i]!);
      const balanced = t[NODES * i + node]! - ((bow[i - 1]! + bow[i]!) / 4) * perMm;
      this.#upper[NODES * i + node] = balanced + upper * perMm;
      t[NODES * i + node] = balanced + lower * perMm;
    }
    return true;
  }

  /** Deviation (mm, toward higher Φ) of the middle of every side, vertices on the rails at a node's t, into the middles' phases. */
  #deviations(node: number, level: number): void {
    this.#fillChain(this.#upNodes[node]!, this.#downNodes[node]!, (i) => this.#lower[NODES * i + node]!);
    this.#middlesOfChain();
    toDistances(this.#middles, level, this.#sides);
  }

  /** Worst deviation of vertices and sides on the fringes checked, without the offsets. */
  #check(from: number, to: number): number {
    let worst = 0;
    const chain = this.#points;
    const { lower, upper } = this.#offsets;
    const share = lower === upper ? 0 : lower / (lower - upper);
    for (const position of CHECKED) {
      const level = chebyshevLevel(from, to, position);
      this.#weigh(level);
      const [up, down] = [
        crossingOf(this.#up, level, this.#probe),
        crossingOf(this.#down, level, this.#probe),
      ];
      this.#weigh(level);
      this.#fillChain(up, down, (i) => {
        const [a, b] = [this.#interpolatedAt(this.#lower, i), this.#interpolatedAt(this.#upper, i)];
        return a + share * (b - a);
      });
      this.#middlesOfChain();
      chain.evaluate(this.#region.phase, this.#sides + 1);
      toDistances(chain, level, this.#sides + 1);
      toDistances(this.#middles, level, this.#sides);
      for (let i = 0; i <= this.#sides; i++) worst = Math.max(worst, Math.abs(chain.phase[i]!));
      for (let i = 0; i < this.#sides; i++) worst = Math.max(worst, Math.abs(this.#middles.phase[i]!));
    }
    return worst;
  }

  #fillChain(up: number, down: number, t: (i: number) => number): void {
    const chain = this.#points;
    // The gradients of the vertices (index i − 1) stay as they are: only x and y are filled here.
    for (let i = 1; i < this.#sides; i++) {
      const at = t(i);
      chain.x[i] = this.#railX[i]! + at * this.#runX[i]!;
      chain.y[i] = this.#railY[i]! + at * this.#runY[i]!;
    }
    place(this.#up.piece, up);
    chain.x[0] = spot.x;
    chain.y[0] = spot.y;
    place(this.#down.piece, down);
    chain.x[this.#sides] = spot.x;
    chain.y[this.#sides] = spot.y;
  }

  #middlesOfChain(): void {
    const [chain, middles] = [this.#points, this.#middles];
    middles.reserve(this.#sides);
    for (let i = 0; i < this.#sides; i++) {
      middles.x[i] = (chain.x[i]! + chain.x[i + 1]!) / 2;
      middles.y[i] = (chain.y[i]! + chain.y[i + 1]!) / 2;
    }
    middles.evaluate(this.#region.phase, this.#sides);
  }

  /** Lagrange's weights of the nodes at a level. */
  #weigh(level: number): void {
    for (let j = 0; j < NODES; j++) {
      let weight = 1;
      for (let m = 0; m < NODES; m++)
        if (m !== j) weight *= (level - this.#levels[m]!) / (this.#levels[j]! - this.#levels[m]!);
      this.#weights[j] = weight;
    }
  }

  #interpolated(nodes: Float64Array): number {
    let sum = 0;
    for (let j = 0; j < NODES; j++) sum += this.#weights[j]! * nodes[j]!;
    return sum;
  }

  #interpolatedAt(nodes: Float64Array, i: number): number {
    let sum = 0;
    for (let j = 0; j < NODES; j++) sum += this.#weights[j]! * nodes[NODES * i + j]!;
    return sum;
  }

  #reserve(count: number): void {
    if (this.#railX.length >= count) return;
    const size = 2 * count;
    this.#railX = new Float64Array(size);
    this.#railY = new Float64Array(size);
    this.#runX = new Float64Array(size);
    this.#runY = new Float64Array(size);
    this.#lower = new Float64Array(NODES * size);
    this.#upper = new Float64Array(NODES * size);
  }
}

/** The level at a position from 0 to NODES − 1 in equal steps of the Chebyshev angle. */
const chebyshevLevel = (from: number, to: number, position: number): number =>
  from + ((to - from) * (1 - Math.cos((Math.PI * position) / (NODES - 1)))) / 2;
