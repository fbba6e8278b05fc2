/**
 * Fringes of light at normal incidence on a datum feature, for each motion of the part, by a traced return to the feature moved in earnest: decentre,
 * axial move and tilts about the part frame's origin and axes. What normal-incidence-modes.ts has to first order in closed form.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { directionToParent } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { movedSurface } from '../../optics/datum-surface.ts';
import { traceRoundTrip } from '../../optics/round-trip.ts';
import { tracedPatch } from '../sensing/null-fringes.ts';
import { countedPoints, type MotionFringes, motionFringes } from './return-ring.ts';

/** Undefined for a patch that meets no datum feature. */
export function normalIncidenceFringes(design: Design, patch: DesignedPatch): MotionFringes | undefined {
  if (patch.normalIncidence === undefined) return undefined;
  const still: Vec3 = [0, 0, 0];
  const rest = normalIncidenceWaves(design, patch, still, still);
  return motionFringes((move, turn) =>
    normalIncidenceWaves(design, patch, move, turn).map((waves, i) => waves - rest[i]!),
  );
}

/** W at the patch's counted points with the part moved, in its own frame about its origin: mm, radians; waves. */
export function normalIncidenceWaves(
  design: Design,
  patch: DesignedPatch,
  move: Vec3,
  turn: Vec3,
): Float64Array {
  const { frame } = design.scenario.part;
  const { surface } = patch.normalIncidence as NonNullable<typeof patch.normalIncidence>;
  const [moved, turned] = [directionToParent(frame, move), directionToParent(frame, turn)];
  const reference = { kind: 'surface', surface: movedSurface(surface, moved, turned, frame.origin) } as const;
  const { xs, ys } = countedPoints(patch);
  return traceRoundTrip(tracedPatch(design, patch), reference, xs, ys).waves;
}
