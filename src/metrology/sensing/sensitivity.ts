/**
 * What a patch tells of its reference: the directions it senses, fringes for a move along each, the least move that a
 * reading resolves, and the largest from which the fringes can still be read. Lengths mm.
 *
 * Round-trip OPD of a move δ is 2 û(P)·δ to first order: N = 2Dq/(λs) tilt fringes across the width D for a move q along a
 * direction square to the chief ray, N = q(D/2s)²/λ fringes of power at the edge for one along it, s as in optical-distance.ts.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { runAlong } from '../../design/design-patch.ts';
import { cross, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { MOST_COUNTABLE_PER_PIXEL, MOST_FRINGES_PER_PIXEL } from './camera-pixels.ts';
import { biasDensity, densityAt, moveToDensity, rangeByLight } from './capture-range.ts';
import { opticalDistances } from './optical-distance.ts';

export interface Sense {
  readonly kind: 'tilt' | 'power';
  /** Unit vector, substrate frame. */
  readonly direction: Vec3;
  /** D: across the patch along `direction` seen square to the chief ray; for power, the larger of the two. */
  readonly width: number;
  readonly fringesPerMm: number;
  /** Standard uncertainty of one reading as a move, r/fringesPerMm. */
  readonly resolution: number;
  /**
   * Largest move from which a quarter of the light still comes back, and which leaves less than half a fringe on a camera pixel, the bias
   * included; 0 where the bias alone takes all of that.
   */
  readonly captureRange: number;
  /** Largest move of these whose fringes an eye can count. */
  readonly readableRange: number;
}

/** How near to its place an eye sets a reference on its spot or line, mm: common practice, no source beyond the trade. */
export const EYE_SETTING = { good: 0.5, poor: 1 } as const;

/** What a patch senses, in the order of its `senses`; nothing for what is not read as a point is. */
export function sensesOf(design: Design, patch: DesignedPatch): readonly Sense[] {
  if (!isReadBy(patch.reference, 'senses')) return [];
  const { wavelength } = design.light;
  const { readable } = design.scenario.interferometer;
  const tilts = patch.lineDirection === undefined ? patch.senses.slice(0, 2) : patch.senses;
  const widths = tilts.map((direction) => widthAlong(patch, direction));
  const distances = opticalDistances(design, patch);
  return patch.senses.map((direction, k): Sense => {
    const distance = distances[k]!;
    const kind = k < tilts.length ? 'tilt' : 'power';
    const width = kind === 'tilt' ? widths[k]! : Math.max(...widths);
    const fringesPerMm =
      kind === 'tilt' ? (2 * width) / (wavelength * distance) : (width / (2 * distance)) ** 2 / wavelength;
    const byPixels = (perPixel: number): number =>
      rangeByPixels(design, patch, { kind, direction, width }, distance, perPixel);
    return {
      kind,
      direction,
      width,
      fringesPerMm,
      resolution: readable / fringesPerMm,
      get captureRange() {
        return captureRangeOf(design, patch, k, byPixels(MOST_FRINGES_PER_PIXEL));
      },
      get readableRange() {
        return Math.min(this.captureRange, byPixels(MOST_COUNTABLE_PER_PIXEL));
      },
    };
  });
}

/** Row [ê, r × ê] of a sensed direction in the six unknowns [T, θ] of a body that moves as δ = T + θ × r. */
export function sensitivityRow(direction: Vec3, at: Vec3): readonly number[] {
  return [...direction, ...cross(at, direction)];
}

/** Width of the patch along a direction square to its chief ray, seen along that ray. */
export function widthAlong(patch: DesignedPatch, direction: Vec3): number {
  const { min, max } = runAlong(patch, [direction[0], direction[1]]);
  return max - min;
}

/** The move whose fringes, with the bias's on top, come to so many a pixel somewhere in the patch. */
function rangeByPixels(
  design: Design,
  patch: DesignedPatch,
  { kind, direction, width }: Pick<Sense, 'kind' | 'direction' | 'width'>,
  distance: number,
  perPixel: number,
): number {
  const { wavelength } = design.light;
  const limit = densityAt(design, perPixel);
  const bias = biasDensity(patch);
  if (kind === 'power') {
    // Fringes along the radius at the edge: d(qρ²/(s²λ))/dρ at ρ = D/2.
    const left = Math.max(0, limit - Math.hypot(...bias));
    return left / (width / (distance * distance * wavelength));
  }
  const perMm = 2 / (wavelength * distance);
  return moveToDensity(bias, [direction[0] * perMm, direction[1] * perMm], limit);
}

/** By pixels and by light: traced when first asked for, and kept. */
function captureRangeOf(design: Design, patch: DesignedPatch, sense: number, byPixels: number): number {
  const ranges = known.get(design) ?? new Map<DesignedPatch, number[]>();
  known.set(design, ranges);
  const own = ranges.get(patch) ?? [];
  ranges.set(patch, own);
  own[sense] ??= rangeByLight(design, patch, patch.senses[sense]!, byPixels);
  return own[sense];
}

const known = new WeakMap<Design, Map<DesignedPatch, number[]>>();
