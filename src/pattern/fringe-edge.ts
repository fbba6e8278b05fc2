/**
 * Single fringes placed one at a time: where a zone meets a corner or an extreme of the patch's edge, and where too few fringes
 * run side by side to share work. mm, waves.
 */
import { type Pair, pointOf } from './bands.ts';
import { crossingOf, place, type Run, spot } from './monotone-runs.ts';
import { VertexList, VertexPlacer } from './place-vertices.ts';
import type { Region } from './regions.ts';
import { Probe } from './smooth-phase.ts';
import { FringePath, FringeTracer } from './trace-fringe.ts';

/** A fringe's vertices with the places of its ends on the edge: `up` before the first, `down` after the last. */
export class FringeEdge {
  readonly vertices = new VertexList();
  count = 0;
  /** Fractions of the runs' pieces where the fringe itself ends, and where its offset edge does. */
  up = 0;
  down = 0;
  upPlaced = 0;
  downPlaced = 0;
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
    edge.count = count;
    this.worst = Math.max(this.worst, worst);
    edge.upPlaced = this.#movedEnd(up, edge.up, offset);
    edge.downPlaced = this.#movedEnd(down, edge.down, offset);
    if (offset === 0) return;
    const { x, y } = edge.vertices;
    place(up.piece, edge.upPlaced);
    [x[0], y[0]] = [spot.x, spot.y];
    place(down.piece, edge.downPlaced);
    [x[count - 1], y[count - 1]] = [spot.x, spot.y];
  }

  /** Where the offset edge meets the run, at most at the run's end. */
  #movedEnd(run: Run, fraction: number, offset: number): number {
    if (offset === 0) return fraction;
    place(run.piece, fraction);
    this.#probe.at(spot.x, spot.y);
    const { gx, gy } = this.#probe;
    const moved = fraction + (offset * Math.hypot(gx, gy)) / (gx * spot.dx + gy * spot.dy);
    return Math.min(run.to, Math.max(run.from, moved));
  }
}
