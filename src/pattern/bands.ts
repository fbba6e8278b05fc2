/**
 * Which runs of a region's edge the fringes of a level join, band by band; waves. Found once a band, by following the fringes
 * of a level in the middle of it (regions.ts says why that answers for the whole band).
 */
import { spot } from './edge-piece.ts';
import { crossingOf, type Run } from './monotone-runs.ts';
import type { Region } from './regions.ts';
import { Probe } from './smooth-phase.ts';
import { FringePath, FringeTracer } from './trace-fringe.ts';

/** A family of fringes: they leave the edge on `up`, where Φ rises along the edge, and meet it again on `down`. */
export interface Pair {
  readonly up: number;
  readonly down: number;
}

/** Levels nearer than this (waves) to a value that Φ has at the end of a run are moved off it: far above rounding, far below any bound. */
const CLEAR = 1e-6;
/**
 * From the value at a stationary point itself levels are moved by this much: a fringe that parts there bends so sharply that
 * rounding (PHASE_ROUNDING) would hide its course. 1/250 of the default bound.
 */
const CLEAR_OF_STATIONARY = 2e-5;

export class Bands {
  readonly #region: Region;
  readonly #pairs = new Map<number, readonly Pair[]>();

  constructor(region: Region) {
    this.#region = region;
  }

  /** The band of a level: how many limits lie below it. */
  bandOf(level: number): number {
    return countBelow(this.#region.limits, level);
  }

  /** The pairs of runs that fringes of the band join, in the order of their `up` runs. */
  pairsIn(band: number): readonly Pair[] {
    let pairs = this.#pairs.get(band);
    if (pairs === undefined) {
      pairs = this.#findPairs(band);
      this.#pairs.set(band, pairs);
    }
    return pairs;
  }

  #findPairs(band: number): readonly Pair[] {
    const { limits, runs, phase } = this.#region;
    if (band === 0 || band === limits.length) return [];
    const level = (limits[band - 1]! + limits[band]!) / 2;
    const crossed = (run: Run, from: number, to: number): boolean =>
      from < level && to >= level && run.from < run.to;
    const indices = runs.map((_, k) => k);
    const ups = indices.filter((k) => crossed(runs[k]!, runs[k]!.start, runs[k]!.end));
    const downs = indices.filter((k) => crossed(runs[k]!, runs[k]!.end, runs[k]!.start));
    if (ups.length === 1) return [{ up: ups[0]!, down: downs[0]! }];
    const probe = new Probe(phase);
    const ends = new Map(
      [...ups, ...downs].map((k) => [k, pointOf(runs[k]!, crossingOf(runs[k]!, level, probe))]),
    );
    const tracer = new FringeTracer(phase);
    const path = new FringePath();
    const free = [...downs];
    return ups.map((up) => {
      const found = tracer.trace(
        level,
        ends.get(up)!,
        free.map((k) => ends.get(k)!),
        path,
      );
      return { up, down: free.splice(found, 1)[0]! };
    });
  }
}

export function pointOf(run: Run, fraction: number): { x: number; y: number } {
  run.edge.place(fraction);
  return { x: spot.x, y: spot.y };
}

/** Values of Φ that levels keep away from, for a whole patch, ascending. */
export interface ForbiddenValues {
  /** At the ends of runs, of all regions. */
  readonly limits: Float64Array;
  /** At stationary points. */
  readonly stationary: Float64Array;
}

/**
 * A level moved off the forbidden values, CLEAR at a time: down from the least of them, up otherwise, so that a level through
 * the least or the greatest value of Φ leaves no fringe there.
 */
export function clearLevel(level: number, { limits, stationary }: ForbiddenValues): number {
  const sharp = isNearOne(level, stationary);
  const step = sharp ? CLEAR_OF_STATIONARY : CLEAR;
  if (!sharp && isClear(level, limits, step)) return level;
  const first = Math.abs(level - limits[0]!) <= step ? -step : step;
  for (let k = 1; ; k++) {
    if (isClear(level + k * first, limits, step)) return level + k * first;
    if (isClear(level - k * first, limits, step)) return level - k * first;
  }
}

function isNearOne(level: number, stationary: Float64Array): boolean {
  for (let k = 0; k < stationary.length; k++)
    if (Math.abs(level - stationary[k]!) < CLEAR_OF_STATIONARY) return true;
  return false;
}

function isClear(level: number, limits: Float64Array, step: number): boolean {
  const next = limits[countBelow(limits, level - step / 2)];
  return next === undefined || next > level + step / 2;
}

/** How many of the values, which ascend, lie below the bound. */
function countBelow(values: Float64Array, bound: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! < bound) low = middle + 1;
    else high = middle;
  }
  return low;
}
