/**
 * The bench out of adjustment: references off their places, the part or the hologram moved. mm, radians.
 *
 * Everything is carried into the hologram's own frame, exactly: a part's motion takes along every reference but the screens;
 * a hologram's motion is that of the beam and of all references the opposite way, the pattern and its glass staying.
 */
import type { Design } from '../../design/design.ts';
import { incidentBeam } from '../../design/incident-beam.ts';
import {
  composed,
  type Frame,
  inverse,
  placeFromParent,
  placeToParent,
  rotateBack,
  rotationFromAngles,
} from '../../geometry/frame.ts';
import { add, subtract, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { carriedSurface, type DatumSurface, movedSurface } from '../../optics/datum-surface.ts';
import type { Eikonal } from '../../optics/eikonal.ts';
import type { Beam, Reference } from '../../scenario/scenario.ts';

/** A rigid motion about a frame's origin: first turned by the intrinsic x-y-z angles, then moved. */
export interface RigidMotion {
  readonly translation: Vec3;
  readonly rotation: Vec3;
}

export interface Displacements {
  /** By id, along the axes of the substrate frame; in addition to what the part takes along. */
  readonly references?: ReadonlyMap<string, Vec3>;
  /** In the part frame, about its origin. */
  readonly part?: RigidMotion;
  /** In the substrate frame, about its origin, against the beam and all references. */
  readonly hologram?: RigidMotion;
}

/** The bench as the hologram sees it. */
export interface BenchState {
  /** The beam's eikonal on the pattern. */
  readonly incident: Eikonal;
  /** How far the reference is off its place, in the hologram's frame. */
  readonly displacementOf: (reference: Reference) => Vec3;
  /** Where a frame that is fixed to the part stands: from its place in the design to the hologram's frame. */
  readonly carriedFrame: (frame: Frame) => Frame;
  /** Where a feature of the part stands, the reference's own displacement with it: from its place in the design to the hologram's frame. */
  readonly carriedFeature: (reference: Reference, feature: DatumSurface) => DatumSurface;
}

/** Throws a RangeError where the moved beam has no place to come from: its focus in the glass or on the pattern. */
export function benchState(design: Design, displacements: Displacements): BenchState {
  const { references, part, hologram } = displacements;
  const partFrame = design.scenario.part.frame;
  const displacementOf = (reference: Reference): Vec3 => {
    const own = references?.get(reference.id) ?? STILL;
    const carried =
      part === undefined || !isReadBy(reference, 'senses')
        ? STILL
        : subtract(
            placeToParent(partFrame, movedBy(part, placeFromParent(partFrame, reference.at))),
            reference.at,
          );
    const displacement = add(carried, own);
    if (hologram === undefined) return displacement;
    return subtract(seenFrom(hologram, add(reference.at, displacement)), reference.at);
  };
  const withPart =
    part === undefined ? undefined : composed(composed(partFrame, frameOf(part)), inverse(partFrame));
  const carriedFrame = (frame: Frame): Frame => {
    const carried = withPart === undefined ? frame : composed(withPart, frame);
    return hologram === undefined ? carried : composed(inverse(frameOf(hologram)), carried);
  };
  const carriedFeature = (reference: Reference, feature: DatumSurface): DatumSurface => {
    const own = references?.get(reference.id) ?? STILL;
    const carried = withPart === undefined ? feature : carriedSurface(feature, withPart);
    const placed = own === STILL ? carried : movedSurface(carried, own, STILL, carried.point);
    return hologram === undefined ? placed : carriedSurface(placed, inverse(frameOf(hologram)));
  };
  return {
    incident: hologram === undefined ? design.beam.eikonal : movedBeam(design, hologram),
    displacementOf,
    carriedFrame,
    carriedFeature,
  };
}

const STILL: Vec3 = [0, 0, 0];

const frameOf = ({ translation, rotation }: RigidMotion): Frame => ({
  origin: translation,
  rotation: rotationFromAngles(rotation),
});
const movedBy = (motion: RigidMotion, place: Vec3): Vec3 => placeToParent(frameOf(motion), place);
const seenFrom = (motion: RigidMotion, place: Vec3): Vec3 => placeFromParent(frameOf(motion), place);

function movedBeam(design: Design, hologram: RigidMotion): Eikonal {
  const { scenario, glass } = design;
  const given = scenario.interferometer.beam;
  const beam: Beam =
    given.kind === 'collimated'
      ? { ...given, direction: rotateBack(rotationFromAngles(hologram.rotation), given.direction) }
      : { ...given, focus: seenFrom(hologram, given.focus) };
  const moved = incidentBeam({ ...scenario, interferometer: { ...scenario.interferometer, beam } }, glass);
  if (!('eikonal' in moved)) throw new RangeError(`the hologram cannot move so far: ${moved.message}`);
  return moved.eikonal;
}
