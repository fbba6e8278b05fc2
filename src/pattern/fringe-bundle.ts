/**
 * Many neighbouring fringes of one family at once; mm, waves.
 *
 * The first and the last fringe of a bundle are traced (trace-fringe.ts) and given vertices by the same rule; straight rails join
 * the corresponding ones. On a rail every fringe between has one vertex, at the parameter t(L), an analytic function of the
 * level L alone: it is solved with the exact phase at the six Chebyshev–Lobatto levels of the bundle and interpolated by the
 * polynomial through them. Then the phase is taken at every vertex, and in the middle of every side, of three
 * fringes half way between those levels, where the polynomial strays most: the bundle stands only if all of them keep the
 * bound, else it is halved. Ends on the edge of the patch are not interpolated: each is solved with the exact phase.
 */
import { type Pair, pointOf } from './bands.ts';
import { BundleEnds, CHECKED, LevelPolynomial, NODES, type Offsets } from './bundle-ends.ts';
import { spot } from './edge-piece.ts';
import { crossingOf } from './monotone-runs.ts';
import { balance, LAST_CORRECTION, VertexPlacer, worstOfSide } from './place-vertices.ts';
import type { Region } from './regions.ts';
import { PHASE_ROUNDING, PointBatch, Probe, toDistances } from './smooth-phase.ts';
import { FringePath, FringeTracer } from './trace-fringe.ts';
import type { ZoneOutline } from './zone-outline.ts';

/** Rails must cross the fringes, if only at this cosine to ∇Φ: how tame t(L) is, the fringes checked say. */
const LEAST_CROSSING = 0.01;
const MOST_ROUNDS = 12;
/** Fringes of one bundle have as many sides as the one that needs the most: none may need fewer by more than this part, and one. */
const UNEVEN = 0.05;
/** Tries with more sides before a bundle is halved. */
const TRIES = 3;

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
  readonly #polynomial = new LevelPolynomial();
  /** Where the fringes taken up end. */
  readonly ends: BundleEnds;
  #sides = 0;
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
    this.ends = new BundleEnds(region.phase, this.#polynomial, offsets);
  }

  /** By how much the bundle last tried could be thicker (or must be thinner), as its ends and its sides let expect. */
  get room(): number {
    return 0.9 * Math.min(this.ends.room, 1 / Math.max(this.#unevenness, 0.1));
  }

  /** Takes up the fringes of a family from one level to another; false where they are too many to be told from six. */
  fit(pair: Pair, from: number, to: number): boolean {
    this.#unevenness = 0;
    this.#polynomial.span(from, to);
    if (!this.ends.fit(this.#region.runs[pair.up]!, this.#region.runs[pair.down]!)) return false;
    this.#trace(from, 0, this.#first);
    this.#trace(to, NODES - 1, this.#last);
    const one = this.#placer.sides(this.#first);
    const other = this.#placer.sides(this.#last);
    const fewer = Math.min(one, other);
    const more = Math.max(one, other);
    this.#unevenness = (more - fewer) / (UNEVEN * more + 1);
    if (this.#unevenness > 1) return false;
    let sides = more;
    for (let attempt = 0; attempt < TRIES; attempt++) {
      if (!this.#layRails(from, to, sides)) return false;
      const worst = this.#check();
      if (worst <= this.#tolerance) {
        this.worst = Math.max(this.worst, worst);
        return true;
      }
      if (worst > 2 * this.#tolerance) return false;
      sides = Math.max(sides + 1, Math.ceil(sides * 1.01 * Math.sqrt(worst / this.#tolerance)));
    }
    return false;
  }

  /** Whether an edge of the zone is moved to the end of a run, or past it. */
  isAtRunEnd(ends: Float64Array, zone: number): boolean {
    const { up, down } = this.ends;
    for (let k = 4 * zone; k < 4 * zone + 4; k++) {
      const { from, to } = k % 4 === 0 || k % 4 === 3 ? up : down;
      if (ends[k]! <= from || ends[k]! >= to) return true;
    }
    return false;
  }

  /** Appends a zone's outline: the upper edge forward, the patch's edge, the lower edge backward, the patch's edge. */
  append(upper: number, lower: number, ends: Float64Array, zone: number, outline: ZoneOutline): void {
    const at = 4 * zone;
    const { up, down } = this.ends;
    outline.reserve(2 * (this.#sides + 1));
    outline.addPlace(up.edge, ends[at]!);
    this.#addInner(upper, this.#upper, 1, outline);
    outline.addPlace(down.edge, ends[at + 1]!);
    outline.addAlong(down.edge, ends[at + 1]!, ends[at + 2]!, this.#tolerance);
    outline.reserve(this.#sides + 1);
    outline.addPlace(down.edge, ends[at + 2]!);
    this.#addInner(lower, this.#lower, -1, outline);
    outline.addPlace(up.edge, ends[at + 3]!);
    outline.addAlong(up.edge, ends[at + 3]!, ends[at]!, this.#tolerance);
  }

  #addInner(level: number, nodes: Float64Array, direction: 1 | -1, outline: ZoneOutline): void {
    this.#polynomial.weigh(level);
    const w = this.#polynomial.weights;
    const w0 = w[0]!;
    const w1 = w[1]!;
    const w2 = w[2]!;
    const w3 = w[3]!;
    const w4 = w[4]!;
    const w5 = w[5]!;
    const railX = this.#railX;
    const railY = this.#railY;
    const runX = this.#runX;
    const runY = this.#runY;
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
    const { up, down } = this.ends.atNode(node);
    this.#tracer.trace(level, pointOf(this.ends.up, up), [pointOf(this.ends.down, down)], path);
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
      if (!this.#solveNode(j, (this.#polynomial.levels[j]! - from) / (to - from))) return false;
    return true;
  }

  /** t on every rail at one node's level, balanced about the fringe (place-vertices.ts). */
  #solveNode(node: number, guess: number): boolean {
    const level = this.#polynomial.levels[node]!;
    const sides = this.#sides;
    const points = this.#points;
    points.reserve(sides + 1);
    const railX = this.#railX;
    const railY = this.#railY;
    const runX = this.#runX;
    const runY = this.#runY;
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
    const { up, down } = this.ends.atNode(node);
    this.#fillChain(up, down, (i) => t[NODES * i + node]!);
    this.#middlesOfChain();
    toDistances(this.#middles, level, sides);
    const bow = this.#middles.phase;
    const { lower, upper } = this.#offsets;
    for (let i = 1; i < sides; i++) {
      const gx = points.gx[i - 1]!;
      const gy = points.gy[i - 1]!;
      // t for each mm toward higher Φ.
      const perMm = Math.sqrt(gx * gx + gy * gy) / (gx * runX[i]! + gy * runY[i]!);
      const balanced = t[NODES * i + node]! + balance(bow, i, sides) * perMm;
      this.#upper[NODES * i + node] = balanced + upper * perMm;
      t[NODES * i + node] = balanced + lower * perMm;
    }
    return true;
  }

  /** Worst deviation of vertices and sides on the fringes checked, without the offsets. */
  #check(): number {
    let worst = 0;
    const chain = this.#points;
    const polynomial = this.#polynomial;
    const { lower, upper } = this.#offsets;
    const share = lower === upper ? 0 : lower / (lower - upper);
    for (const position of CHECKED) {
      const level = polynomial.levelAt(position);
      const up = crossingOf(this.ends.up, level, this.#probe);
      const down = crossingOf(this.ends.down, level, this.#probe);
      polynomial.weigh(level);
      this.#fillChain(up, down, (i) => {
        const a = polynomial.value(this.#lower, NODES * i);
        return a + share * (polynomial.value(this.#upper, NODES * i) - a);
      });
      this.#middlesOfChain();
      chain.evaluate(this.#region.phase, this.#sides + 1);
      toDistances(chain, level, this.#sides + 1);
      toDistances(this.#middles, level, this.#sides);
      for (let i = 0; i < this.#sides; i++)
        worst = Math.max(worst, worstOfSide(chain.phase[i]!, this.#middles.phase[i]!, chain.phase[i + 1]!));
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
    this.ends.up.edge.place(up);
    chain.x[0] = spot.x;
    chain.y[0] = spot.y;
    this.ends.down.edge.place(down);
    chain.x[this.#sides] = spot.x;
    chain.y[this.#sides] = spot.y;
  }

  #middlesOfChain(): void {
    const chain = this.#points;
    const middles = this.#middles;
    middles.reserve(this.#sides);
    for (let i = 0; i < this.#sides; i++) {
      middles.x[i] = (chain.x[i]! + chain.x[i + 1]!) / 2;
      middles.y[i] = (chain.y[i]! + chain.y[i + 1]!) / 2;
    }
    middles.evaluate(this.#region.phase, this.#sides);
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
