/**
 * The written pattern of a patch: the outlines of the zones k ≤ Φ < k + duty (Φ in waves, the patch's own bias included), as
 * polygons of the pattern plane in mm, one after the other, memory flat however many they are. A level that Φ takes at a
 * stationary point, or at a corner or an extreme of the patch's edge, is moved off that value by 2e-5 or 1e-6 waves.
 *
 * An edge of a polygon strays from its fringe by no more than `waves`/|∇Φ|max and no more than `distance`, the rounding to
 * the file's grid included. Polygons neither overlap nor have holes: a zone that closes around a point or runs around a ring's
 * hole comes in parts that abut along a straight cut; one that crosses a ridge is joined there (join-at-ridge.ts). `edgeShift`
 * moves every fringe edge of a written zone outward along its normal (inward if negative), by moving its level by shift·|∇Φ|;
 * the patch's own edge stays, and fringes that lie beyond it stay unwritten though the shift would bring their edge in.
 */

import type { Pattern } from '../design/pattern.ts';
import { joinedAtRidge } from './join-at-ridge.ts';
import { RegionZones, type WrittenZone, windowOf, type ZoneRule } from './region-zones.ts';
import { ascending, type PhasedOutline, phasedOutlineOf, type Region, regionsOf } from './regions.ts';
import { expectRoomForShift } from './shift-limits.ts';

export interface TraceOptions {
  /** 0 to 1, both excluded. */
  readonly dutyCycle: number;
  /** Default 0.005 waves. */
  readonly waves?: number;
  /** mm; default 5 nm. */
  readonly distance?: number;
  /** The grid that the file rounds to, mm; default 1 nm. Its rounding counts in the bound. */
  readonly grid?: number;
  /** Process bias of each fringe edge, mm; default 0. */
  readonly edgeShift?: number;
  /** Only every nth pattern line, for a picture; default 1, all. */
  readonly every?: number;
}

interface PatternTrace {
  /** Bound of an edge's deviation from its fringe as written to the grid, mm. */
  readonly bound: number;
  /** Largest deviation measured so far, before rounding to the grid, mm. */
  readonly worst: number;
  zones(): Generator<WrittenZone>;
}

const DEFAULT_WAVES = 0.005;
const DEFAULT_DISTANCE = 5e-6;
const DEFAULT_GRID = 1e-6;
/** Orders that both sides of a ridge are traced for before they are joined: bounds the memory. */
const JOINED_TOGETHER = 1024;
/** The rounding of x and y moves a point by this part of the grid at the most. */
const ROUNDING = Math.SQRT1_2;
/** What the rounding leaves of the bound must be at least this part. */
const LEAST_SHARE = 0.2;

/** A RangeError that knows which patch cannot be written. */
export class UntraceablePatch extends RangeError {
  readonly patch: string;

  constructor(patch: string, why: string) {
    super(`patch ${patch} cannot be written as pattern lines: ${why}`);
    this.patch = patch;
  }
}

/** Throws a RangeError for an option out of its range, and for an edge shift that leaves no line or no gap somewhere. */
export function tracePattern(patch: Pattern, options: TraceOptions): PatternTrace {
  const { dutyCycle, edgeShift = 0, distance = DEFAULT_DISTANCE } = options;
  const trace = traceOrSay(patch, options);
  expectRoomForShift(patch, dutyCycle, edgeShift, distance);
  return trace;
}

function traceOrSay(patch: Pattern, options: TraceOptions): PatternTrace {
  try {
    return traceOutline(phasedOutlineOf(patch), options);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UntraceablePatch(patch.id, error.message);
  }
}

/** As `tracePattern`, of any phase on any outline. */
export function traceOutline(phased: PhasedOutline, options: TraceOptions): PatternTrace {
  const checked = checkedOptions(options);
  const regions = regionsOf(phased);
  const steepest = Math.max(...regions.map((region) => region.slope));
  const bound = Math.min(checked.distance, checked.waves / steepest);
  const tolerance = bound - ROUNDING * checked.grid;
  if (!(tolerance >= LEAST_SHARE * bound))
    throw new RangeError(
      `a grid of ${checked.grid} mm is too coarse for edges good to ${bound} mm; expected at most ` +
        `${((1 - LEAST_SHARE) * bound) / ROUNDING} mm`,
    );
  const rule: ZoneRule = {
    dutyCycle: checked.dutyCycle,
    every: checked.every,
    offsets: { lower: -checked.edgeShift, upper: checked.edgeShift },
    tolerance,
    forbidden: {
      limits: ascending(regions.flatMap((region) => [...region.limits])),
      stationary: ascending(regions.flatMap((region) => region.stationary)),
    },
  };
  let worst = 0;
  return {
    bound,
    get worst() {
      return worst;
    },
    *zones() {
      const { ridge } = phased;
      const of = (region: Region, together?: number) => measured(new RegionZones(region, rule), together);
      if (ridge === undefined) for (const region of regions) yield* of(region);
      else
        yield* joinedAtRidge(
          regions.map((region) => ({
            side: region.phase === ridge.rightPhase ? 'right' : 'left',
            zones: of(region, JOINED_TOGETHER),
          })),
          ridge.line,
          (order) => windowOf(order, rule.every, JOINED_TOGETHER),
        );
    },
  };

  function* measured(zones: RegionZones, together?: number): Generator<WrittenZone> {
    for (const zone of zones.all(together)) {
      worst = Math.max(worst, zones.worst);
      yield zone;
    }
  }
}

function checkedOptions(options: TraceOptions): Required<TraceOptions> {
  const given = {
    waves: DEFAULT_WAVES,
    distance: DEFAULT_DISTANCE,
    grid: DEFAULT_GRID,
    edgeShift: 0,
    every: 1,
    ...options,
  };
  const expect = (
    key: keyof typeof given,
    what: string,
    isRight: (value: number) => boolean,
    expected: string,
  ) => {
    if (!isRight(given[key])) throw new RangeError(`${what} is ${given[key]}; expected ${expected}`);
  };
  expect('dutyCycle', 'the duty cycle', (duty) => duty > 0 && duty < 1, 'more than 0 and less than 1');
  expect('waves', 'the bound in waves', (waves) => waves > 0, 'more than 0');
  expect('distance', 'the bound in mm', (distance) => distance > 0, 'more than 0');
  expect('grid', 'the grid in mm', (grid) => grid >= 0, '0 or more');
  expect('edgeShift', 'the edge shift in mm', Number.isFinite, 'a finite number');
  expect('every', '`every`', (every) => Number.isInteger(every) && every >= 1, 'a whole number from 1 on');
  return given;
}
