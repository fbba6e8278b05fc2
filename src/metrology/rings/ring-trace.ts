/**
 * What is counted on a ring (sensing/ring-count.ts) with the hologram or the part moved, beyond the design place, by the beam that the
 * moved hologram sees and by rays traced to the moved feature. mm, radians; fringes.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { DatumSurface } from '../../optics/datum-surface.ts';
import type { Eikonal } from '../../optics/eikonal.ts';
import { FATES, traceRoundTrip } from '../../optics/round-trip.ts';
import { type BenchState, benchState, type Displacements } from '../camera/fringe-picture-displacements.ts';
import { tracedPatch } from '../sensing/null-fringes.ts';
import { type RingCounts, ringCounts, ringPoints } from '../sensing/ring-count.ts';

/** Whether a patch is read as a ring is. */
export const isRing = ({ reference }: DesignedPatch): boolean =>
  isReadBy(reference, 'alignment') || isReadBy(reference, 'modes');

/** Counts of a return ring in a beam as the moved hologram sees it. */
export function returnCounts(design: Design, { outline }: DesignedPatch, incident: Eikonal): RingCounts {
  const points = ringPoints(outline);
  const count = points.xs.length;
  const waves = new Float64Array(count);
  const perPath = 2 / design.light.wavelength;
  incident.accumulate(points.xs, points.ys, perPath, waves, count);
  design.beam.eikonal.accumulate(points.xs, points.ys, -perPath, waves, count);
  return ringCounts(outline, points, waves);
}

/** Less than this share of the rays home, and nothing can be counted. */
const LEAST_SHARE = 0.5;

/** Counts of light at normal incidence on a feature that stands elsewhere, as they are; undefined where too little comes back. */
function featureSeen(
  design: Design,
  patch: DesignedPatch,
  surface: DatumSurface,
  incident: Eikonal,
): RingCounts | undefined {
  const { xs, ys } = ringPoints(patch.outline);
  const traced = { ...tracedPatch(design, patch), incident };
  const { fate, x, y, waves } = traceRoundTrip(traced, { kind: 'surface', surface }, xs, ys);
  const home = [...fate.keys()].filter((i) => fate[i] === RETURNED);
  if (home.length < LEAST_SHARE * xs.length) return undefined;
  const of = (values: Float64Array): Float64Array => Float64Array.from(home, (i) => values[i]!);
  return ringCounts(patch.outline, { xs: of(x), ys: of(y) }, of(waves));
}

const RETURNED = FATES.indexOf('returned');

/** The counts as a function of where the feature stands, beyond those of its design place; undefined for a patch on no feature. */
export function featureCounts(
  design: Design,
  patch: DesignedPatch,
): ((surface: DatumSurface, incident?: Eikonal) => RingCounts | undefined) | undefined {
  const { normalIncidence } = patch;
  if (normalIncidence === undefined) return undefined;
  const { eikonal } = design.beam;
  const rest = featureSeen(design, patch, normalIncidence.surface, eikonal);
  if (rest === undefined) return undefined;
  return (surface, incident = eikonal) => {
    const seen = featureSeen(design, patch, surface, incident);
    return seen && [seen[0] - rest[0], seen[1] - rest[1], seen[2] - rest[2]];
  };
}

/** With the bench out of adjustment; undefined for what is no ring, and where too little comes back. */
export function ringCountsAt(
  design: Design,
  patch: DesignedPatch,
  displacements: Displacements,
  bench: BenchState = benchState(design, displacements),
): RingCounts | undefined {
  if (isReadBy(patch.reference, 'alignment')) return returnCounts(design, patch, bench.incident);
  const counts = featureCounts(design, patch);
  if (counts === undefined) return undefined;
  return counts(bench.carriedFeature(patch.reference, patch.normalIncidence!.surface), bench.incident);
}
