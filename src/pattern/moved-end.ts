/**
 * Where a fringe moved along its normal meets the edge of a region: on the run where the fringe itself ends, or past the run's end on
 * the next ones as long as Φ goes the same way along them. Where it turns, at an extreme, the moved fringe has left the region: it ends there.
 * mm, waves.
 */
import { crossingOf, place, type Run, spot } from './monotone-runs.ts';
import type { Probe } from './smooth-phase.ts';

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

/** The end of the fringe `level`, which ends at `fraction` of run number `own`, moved by `offset` mm toward higher Φ. */
export function movedEnd(
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
    place(run.piece, end);
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
