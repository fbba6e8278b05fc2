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
import { MOST_FRINGES_PER_PIXEL, pixelPitch } from './camera-pixels.ts';
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
  /** Largest move that leaves less than half a fringe on a camera pixel, the bias included; 0 where the bias fills it. */
  readonly captureRange: number;
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
    return {
      kind,
      direction,
      width,
      fringesPerMm,
      resolution: readable / fringesPerMm,
      captureRange: captureRange(design, patch, { kind, direction, width, distance }),
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

/** The move whose fringes, with the bias's on top, come to the camera's limit somewhere in the patch. */
function captureRange(
  design: Design,
  { bias }: DesignedPatch,
  {
    kind,
    direction,
    width,
    distance,
  }: Pick<Sense, 'kind' | 'direction' | 'width'> & { readonly distance: number },
): number {
  const { wavelength } = design.light;
  const limit = MOST_FRINGES_PER_PIXEL / pixelPitch(design);
  const biasX = bias === undefined ? 0 : (bias.fringes * bias.direction[0]) / bias.reach;
  const biasY = bias === undefined ? 0 : (bias.fringes * bias.direction[1]) / bias.reach;
  const biasSquared = biasX * biasX + biasY * biasY;
  if (biasSquared >= limit * limit) return 0;
  if (kind === 'power') {
    // Fringes along the radius at the edge: d(qρ²/(s²λ))/dρ at ρ = D/2.
    return (limit - Math.sqrt(biasSquared)) / (width / (distance * distance * wavelength));
  }
  // |f_b + q f₁| = limit for the worse of a roof's two halves: f₁² q² + 2|f_b·f₁| q + f_b² − limit² = 0.
  const perMm = 2 / (wavelength * distance);
  const [mx, my] = [direction[0] * perMm, direction[1] * perMm];
  const a = mx * mx + my * my;
  const b = Math.abs(biasX * mx + biasY * my);
  return (limit * limit - biasSquared) / (b + Math.sqrt(b * b + a * (limit * limit - biasSquared)));
}
