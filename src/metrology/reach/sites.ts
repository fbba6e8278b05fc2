/**
 * Where on the glass a patch may stand at all: points of a square grid over the free area, with how much room each has, and how
 * steep the pattern toward each reference is there. mm, waves/mm.
 */
import type { Design } from '../../design/design.ts';
import { leavingWave } from '../../design/setup.ts';
import { depthIn } from '../../geometry/contains.ts';
import { areaOf, boundsOf } from '../../geometry/extent.ts';
import { distance2, type Vec2 } from '../../geometry/vector.ts';
import type { Reference } from '../../scenario/scenario.ts';

export interface Site {
  readonly at: Vec2;
  /** From the point to the nearest limit of the free area: edge margin, keep-out and main pattern with clearance, beam. */
  readonly room: number;
}

/** A patch has at least this much about its centre, mm. */
const LEAST_ROOM = 0.5;
/** Places are given to this, mm. */
const GRAIN = 0.1;
const MOST_TRIES = 12;

export interface SiteGrid {
  readonly sites: readonly Site[];
  readonly pitch: number;
}

/** About `wanted` sites, row by row; fewer where the free area has no more to give. */
export function sitesOf(design: Design, wanted: number): SiteGrid {
  let pitch = Math.sqrt(areaOf(design.scenario.substrate.outline) / wanted);
  let grid = gridOf(design, pitch);
  for (let k = 0; k < MOST_TRIES && grid.length < wanted && pitch > 1; k++) {
    pitch *= 0.8;
    grid = gridOf(design, pitch);
  }
  return { sites: grid, pitch };
}

function gridOf(design: Design, pitch: number): Site[] {
  const { minX, minY, maxX, maxY } = boundsOf(design.scenario.substrate.outline);
  const along = (from: number, to: number): number[] => {
    const count = Math.max(1, Math.floor((to - from) / pitch));
    return Array.from({ length: count + 1 }, (_, k) => rounded((from + to) / 2 + (k - count / 2) * pitch));
  };
  return along(minY, maxY).flatMap((y) =>
    along(minX, maxX).flatMap((x): Site[] => {
      const room = roomAt(design, [x, y]);
      return room >= LEAST_ROOM ? [{ at: [x, y], room }] : [];
    }),
  );
}

export const rounded = (value: number): number => Math.round(value / GRAIN) / Math.round(1 / GRAIN) + 0;

/** The radius of the largest circle about a point that lies in the free area; negative outside of it. */
export function roomAt({ scenario, beam, main }: Design, at: Vec2): number {
  const { outline, edgeMargin, clearance } = scenario.substrate;
  let room = depthIn(outline, at) - edgeMargin;
  for (const keepOut of scenario.keepOuts) room = Math.min(room, -depthIn(keepOut.outline, at) - clearance);
  if (main !== undefined) room = Math.min(room, -depthIn(main.outline, at) - clearance);
  if (beam.radius !== undefined) room = Math.min(room, beam.radius - distance2(beam.centre, at));
  return room;
}

/** |∇Φ| at order 1 of a pattern toward the reference, at each point, waves/mm; NaN where none can send it its light. */
export function steepnessToward(
  design: Design,
  reference: Reference,
  xs: Float64Array,
  ys: Float64Array,
): Float64Array {
  const [gx, gy] = [new Float64Array(xs.length), new Float64Array(xs.length)];
  const wavesPerMm = 1 / design.light.wavelength;
  design.beam.eikonal.accumulateGradient(xs, ys, -wavesPerMm, gx, gy, xs.length);
  leavingWave(reference, design).accumulateGradient(xs, ys, wavesPerMm, gx, gy, xs.length);
  for (let i = 0; i < gx.length; i++) gx[i] = Math.sqrt(gx[i]! * gx[i]! + gy[i]! * gy[i]!);
  return gx;
}

/** The steepest pattern that the process can write, waves/mm. */
export function steepestWritten({ scenario: { process } }: Design): number {
  return Math.min(process.dutyCycle, 1 - process.dutyCycle) / process.minFeature;
}
