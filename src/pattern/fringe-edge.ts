/**
 * Single fringes placed one at a time: where a zone meets a corner or an extreme of the patch's edge, and where too few fringes
 * run side by side to share work. mm, waves.
 */
import { type Pair, pointOf } from './bands.ts';
import { spot } from './edge-piece.ts';
import { crossingOf, type Run } from './monotone-runs.ts';
import { VertexPlacer } from './place-vertices.ts';
import type { Region } from './regions.ts';
import { PointBatch, Probe } from './smooth-phase.ts';
import { FringePath, FringeTracer } from './trace-fringe.ts';

/** A fringe's vertices with the places of its ends on the edge: `up` before the first, `down` after the last. */
export class FringeEdge {
  readonly vertices = new PointBatch();
  count = 0;
  /** Fractions of the runs' pieces where the fringe itself ends. */
  up = 0;
  down = 0;
  /** Where its edge as written ends. */
  upPlaced: WrittenEnd = { run: 0, fraction: 0, passed: 0, isStopped: false };
  downPlaced: WrittenEnd = this.upPlaced;
}

export class FringeEdgeMaker {
  readonly #region: Region;
  readonly #probe: Probe;
  readonly #tracer: FringeTracer;
  readonly #placer: VertexPlacer;
  readonly #path = new FringePath();
  /** Largest deviation met so far, mm. */
  worst = 0;

  constructor(region: Region, tolerance: number) {
    this.#region = region;
    this.#probe = new Probe(region.phase);
    this.#tracer = new FringeTracer(region.phase);
    this.#placer = new VertexPlacer(region.phase, tolerance);
  }

  /** The fringe at `level` of a family, moved by `offset` (mm) toward higher Φ. */
  make(level: number, pair: Pair, offset: number, edge: FringeEdge): void {
    const [up, down] = [this.#region.runs[pair.up]!, this.#region.runs[pair.down]!];
    edge.up = crossingOf(up, level, this.#probe);
    edge.down = crossingOf(down, level, this.#probe);
    this.#tracer.trace(level, pointOf(up, edge.up), [pointOf(down, edge.down)], this.#path);
    const { count, worst } = this.#placer.place(this.#path, level, offset, edge.vertices);
    this.worst = Math.max(this.worst, worst);
    const { runs } = this.#region;
    edge.upPlaced = movedEnd(runs, pair.up, edge.up, level, offset, this.#probe);
    edge.downPlaced = movedEnd(runs, pair.down, edge.down, level, offset, this.#probe);
    // Moved out of the region altogether, an edge has nothing between its ends.
    edge.count = edge.upPlaced.isStopped && edge.downPlaced.isStopped ? 2 : count;
    if (offset === 0) return;
    this.#setVertex(edge, 0, edge.upPlaced);
    this.#setVertex(edge, edge.count - 1, edge.downPlaced);
  }

  #setVertex({ vertices }: FringeEdge, at: number, { run, fraction }: WrittenEnd): void {
    this.#region.runs[run]!.edge.place(fraction);
    vertices.x[at] = spot.x;
    vertices.y[at] = spot.y;
  }
}

/** A place on the edge of a region where a fringe ends as written. */
export interface WrittenEnd {
  /** Number of the run. */
  readonly run: number;
  /** Of the run's piece. */
  readonly fraction: number;
  /** How many runs it was moved on, counterclockwise counted positive. */
  readonly passed: number;
  /** Whether the moved fringe does not meet the edge near its end any more. */
  readonly isStopped: boolean;
}

/**
 * Where a fringe moved along its normal meets the edge of a region: on the run where the fringe itself ends, or past the run's end on
 * the next ones as long as Φ goes the same way along them. Where it turns, at an extreme, the moved fringe has left the region: it ends there.
 * The end of the fringe `level`, which ends at `fraction` of run number `own`, moved by `offset` mm toward higher Φ.
 */
function movedEnd(
  runs: readonly Run[],
  own: number,
  fraction: number,
  level: number,
  offset: number,
  probe: Probe,
): WrittenEnd {
  if (offset === 0) return { run: own, fraction, passed: 0, isStopped: false };
  const isRising = rises(runs[own]!);
  const step = offset > 0 === isRising ? 1 : -1;
  for (let passed = 0; ; passed += step) {
    const index = (own + passed + runs.length) % runs.length;
    const run = runs[index]!;
    const end = step === 1 ? run.to : run.from;
    run.edge.place(end);
    const missing = level - probe.at(spot.x, spot.y) + offset * Math.hypot(probe.gx, probe.gy);
    const isBeyond = offset > 0 ? missing > 0 : missing < 0;
    if (!isBeyond)
      return { run: index, fraction: crossingOf(run, level, probe, offset), passed, isStopped: false };
    const next = runs[(index + step + runs.length) % runs.length]!;
    if (rises(next) !== isRising || Math.abs(passed) === runs.length - 1)
      return { run: index, fraction: end, passed, isStopped: true };
  }
}

const rises = (run: Run): boolean => run.end > run.start;
