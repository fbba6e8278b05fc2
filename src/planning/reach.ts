/**
 * What a process can serve: from a place on the glass, the region of space that a pattern with features of at least `minFeature`
 * can send light to; and for a reference, the places on the glass that can send it theirs. mm; slopes are direction cosines.
 *
 * A pattern of order 1 adds λ∇Φ to the beam's lateral cosines, and |∇Φ| is at most min(duty, 1 − duty)/minFeature: the light can
 * leave within a circle of cosines about the undiffracted ray's. Glass after the pattern keeps the cosines and shifts the ray.
 * This is of a patch's middle; its edges reach a little less far. Source: the grating equation (optics/grating.ts).
 */
import type { Design } from '../design/design.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { directionFromLateral, slabCrossing } from '../optics/ray.ts';
import type { Reference } from '../scenario/scenario.ts';
import { type SiteGrid, sitesOf, steepestWritten, steepnessToward } from './sites.ts';

/** The greatest change of lateral cosines that the process can write. */
export const widestBend = (design: Design): number => design.light.wavelength * steepestWritten(design);

/** Light that would leave nearer to the glass's plane than this cosine allows is left out: no bench uses it. */
const STEEPEST = 0.999;

export interface SpaceReach {
  /** Where the undiffracted ray passes. */
  readonly middle: Vec2;
  /** Around the region, at even steps of direction; light cut off at grazing angles is left on the edge that remains. */
  readonly edge: readonly Vec2[];
}

/** The region at the height z above the pattern that a patch at `from` can serve. Throws a RangeError for a height in the glass. */
export function reachInSpace(design: Design, from: Vec2, height: number, steps = 72): SpaceReach {
  const { glass } = design;
  const thickness = glass.side === 'after' ? glass.thickness : 0;
  if (!(height > thickness))
    throw new RangeError(`a height of ${height} mm is not beyond the glass, ${thickness} mm`);
  const incident = incidentCosines(design, from);
  const bend = widestBend(design);
  const at = (cosines: Vec2): Vec2 => {
    const size = Math.hypot(...cosines);
    const kept: Vec2 =
      size > STEEPEST ? [(cosines[0] * STEEPEST) / size, (cosines[1] * STEEPEST) / size] : cosines;
    const run =
      thickness > 0 ? slabCrossing(kept[0] ** 2 + kept[1] ** 2, thickness, glass.index).runPerCosine : 0;
    const [l, m, n] = directionFromLateral(kept, 1, 1)!;
    const rest = (height - thickness) / n;
    return [from[0] + kept[0] * run + l * rest, from[1] + kept[1] * run + m * rest];
  };
  return {
    middle: at(incident),
    edge: Array.from({ length: steps }, (_, k) => {
      const angle = (2 * Math.PI * k) / steps;
      return at([incident[0] + bend * Math.cos(angle), incident[1] + bend * Math.sin(angle)]);
    }),
  };
}

export interface GlassReach {
  readonly reference: Reference;
  readonly grid: SiteGrid;
  /** The feature that a pattern toward the reference has at each site, at order 1; mm. */
  readonly features: Float64Array;
  /** By site. */
  readonly served: readonly boolean[];
}

/** Sites that a map is drawn with. */
const MAPPED = 900;

/** The free places of the glass, and which of them can serve the reference. */
export function reachOverGlass(
  design: Design,
  reference: Reference,
  grid = sitesOf(design, MAPPED),
): GlassReach {
  const steepness = steepnessToward(
    design,
    reference,
    grid.sites.map(({ at }) => at),
  );
  const { dutyCycle, minFeature } = design.scenario.process;
  const features = steepness.map((waves) => Math.min(dutyCycle, 1 - dutyCycle) / waves);
  return { reference, grid, features, served: Array.from(features, (feature) => feature >= minFeature) };
}

function incidentCosines({ beam }: Design, [x, y]: Vec2): Vec2 {
  const [gx, gy] = [new Float64Array(1), new Float64Array(1)];
  beam.eikonal.accumulateGradient(Float64Array.of(x), Float64Array.of(y), 1, gx, gy, 1);
  return [gx[0]!, gy[0]!];
}
