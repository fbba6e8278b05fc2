/**
 * The phase along the edge of a region, run by run: on each run Φ only rises or only falls, so every level is crossed there
 * once or not at all. Fractions of a piece's length; Φ in waves.
 *
 * With f(u) = Φ at the fraction u of a piece of length ℓ and curvature 1/r, |f''| ≤ ℓ²(H + G/r), H the bound of the second
 * derivatives of Φ and G that of |∇Φ|. Where |f'| in the middle of an interval is larger than that bound times half its
 * width, f is monotone there: proven. Other intervals are halved down to 1/4096 of the piece and taken by the sign in
 * their middle. Where neighbouring intervals differ in sign, the extreme between them is found by halving.
 */
import { type Loop, lengthOf } from '../geometry/piece.ts';
import { EdgePiece, spot } from './edge-piece.ts';
import { Probe, type SmoothPhase } from './smooth-phase.ts';

/** A part of a piece. Its numbers stand in a typed array, for the reason that the piece's do. */
export class Run {
  readonly edge: EdgePiece;
  readonly #numbers: Float64Array;

  /** From one fraction of the piece to another; Φ at its start and its end. */
  constructor(edge: EdgePiece, from: number, to: number, start: number, end: number) {
    this.edge = edge;
    this.#numbers = Float64Array.of(from, to, start, end);
  }

  get from(): number {
    return this.#numbers[0]!;
  }

  get to(): number {
    return this.#numbers[1]!;
  }

  get start(): number {
    return this.#numbers[2]!;
  }

  get end(): number {
    return this.#numbers[3]!;
  }
}

/** Bounds over the region: H of the second derivatives (waves/mm²), G of the gradient (waves/mm). */
export interface PhaseBounds {
  readonly curvature: number;
  readonly slope: number;
}

const FINEST = 1 / 4096;
/** A piece along which f' is under this many waves is a fringe itself: no level crosses it. */
const FLAT = 1e-7;
const FLAT_SAMPLES = 65;

export function monotoneRuns(loop: Loop, phase: SmoothPhase, bounds: PhaseBounds): readonly Run[] {
  const probe = new Probe(phase);
  const drafts = loop.flatMap((piece) => {
    const edge = new EdgePiece(piece);
    const flat = isFlat(edge, probe);
    const ends = flat ? [0, 1] : [0, ...extremesAlong(edge, probe, bounds), 1];
    return ends.slice(1).map((to, k) => ({ edge, from: ends[k]!, to, flat }));
  });
  const values = drafts.map(({ edge, from }) => {
    edge.place(from);
    return probe.at(spot.x, spot.y);
  });
  // A flat run has one value: its start's, so that the count of a level's crossings around the loop stays even.
  for (let pass = 0; pass < 2; pass++)
    drafts.forEach(({ flat }, k) => {
      if (flat) values[(k + 1) % values.length] = values[k]!;
    });
  return drafts.map(
    ({ edge, from, to }, k) => new Run(edge, from, to, values[k]!, values[(k + 1) % values.length]!),
  );
}

/** Newton's method steps below this fraction of a piece are the last. */
const LAST_STEP = 1e-13;

/**
 * The fraction of the run's piece where Φ is `level`, kept between the run's ends; with an `offset` (mm) where the fringe moved by it
 * toward higher Φ meets the run, Φ = level + offset·|∇Φ|, or the run's end where it passes that.
 */
export function crossingOf(run: Run, level: number, probe: Probe, offset = 0): number {
  const { edge } = run;
  let low = run.from;
  let high = run.to;
  const rising = run.end > run.start;
  let at = low + ((level - run.start) / (run.end - run.start)) * (high - low);
  for (let step = 0; step < 100; step++) {
    if (!(at > low && at < high)) at = (low + high) / 2;
    edge.place(at);
    const value = probe.at(spot.x, spot.y);
    const moved = offset === 0 ? level : level + offset * Math.hypot(probe.gx, probe.gy);
    const miss = value - moved;
    if (miss > 0 === rising) high = at;
    else low = at;
    const change = miss / (probe.gx * spot.dx + probe.gy * spot.dy);
    at -= change;
    if (Math.abs(change) <= LAST_STEP || high - low <= LAST_STEP) break;
  }
  return Math.min(run.to, Math.max(run.from, at));
}

const slopeAt = (edge: EdgePiece, fraction: number, probe: Probe): number => {
  edge.place(fraction);
  probe.at(spot.x, spot.y);
  return probe.gx * spot.dx + probe.gy * spot.dy;
};

function isFlat(edge: EdgePiece, probe: Probe): boolean {
  for (let k = 0; k < FLAT_SAMPLES; k++)
    if (Math.abs(slopeAt(edge, k / (FLAT_SAMPLES - 1), probe)) > FLAT) return false;
  return true;
}

function extremesAlong(edge: EdgePiece, probe: Probe, { curvature, slope }: PhaseBounds): number[] {
  const { piece } = edge;
  const length = lengthOf(piece);
  const second = length * length * (curvature + (piece.kind === 'arc' ? slope / piece.radius : 0));
  const extremes: number[] = [];
  let before = 0;
  let sign = 0;
  const walk = (from: number, to: number): void => {
    const middle = (from + to) / 2;
    const rate = slopeAt(edge, middle, probe);
    if (Math.abs(rate) <= (second * (to - from)) / 2 && to - from > FINEST) {
      walk(from, middle);
      walk(middle, to);
      return;
    }
    if (sign !== 0 && rate * sign < 0) extremes.push(extremeBetween(edge, before, middle, sign, probe));
    if (rate !== 0) [before, sign] = [middle, Math.sign(rate)];
  };
  walk(0, 1);
  return extremes;
}

function extremeBetween(edge: EdgePiece, from: number, to: number, sign: number, probe: Probe): number {
  let low = from;
  let high = to;
  for (let k = 0; k < 60 && high - low > LAST_STEP; k++) {
    const middle = (low + high) / 2;
    if (slopeAt(edge, middle, probe) * sign > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
