/**
 * The surface under test as a sag in the substrate frame, whichever of the part's datums it is, with the x and y that its aperture counts in:
 * those of the datum about its axis; of a sphere and a plane the part's. mm.
 */
import { composed, directionToParent, type Frame } from '../geometry/frame.ts';
import { asphereSag, coneSag, type Sag, torusSag } from '../geometry/sag.ts';
import { add, scale, type Vec3 } from '../geometry/vector.ts';
import type { PlacedSag } from '../optics/null-wave.ts';
import type { Datum } from '../scenario/datum.ts';
import { sagFrame, sagOf } from '../scenario/datum-sag.ts';
import type { Part } from '../scenario/scenario.ts';
import { axisOf, azimuthDirection } from '../scenario/touch-condition.ts';

/** Throws a RangeError for a datum that the reader does not let through here. */
export function testedSurface(datum: Datum, { frame }: Part): PlacedSag {
  const placed = (sag: Sag, origin: Vec3, axis: Vec3): PlacedSag => {
    const own = sagFrame({ vertex: origin, x: azimuthDirection(axis, 0), axis });
    return { sag, frame: composed(frame, own) };
  };
  /** 1 where the direction of the part frame runs with the light. */
  const withLight = (direction: Vec3): 1 | -1 => (directionToParent(frame, direction)[2] >= 0 ? 1 : -1);
  switch (datum.kind) {
    case 'asphere':
      return { sag: sagOf(datum), frame: composed(frame, sagFrame(datum)) };
    case 'plane': {
      const { point, axis } = axisOf(datum);
      return placed(asphereSag(0, 0), point, scale(axis, withLight(axis)));
    }
    case 'sphere': {
      const axis = scale([0, 0, 1], withLight([0, 0, 1]));
      const bulge = datum.side === 'outside' ? 1 : -1;
      const vertex = add(datum.centre, scale(axis, (-bulge * datum.diameter) / 2));
      return placed(asphereSag((2 * bulge) / datum.diameter, 0), vertex, axis);
    }
    case 'cone':
      return placed(coneSag(datum.angle / 2), datum.apex, axisOf(datum).axis);
    case 'torus': {
      const { axis } = axisOf(datum);
      const near = datum.side === 'outside' ? -1 : 1;
      const sign = (near * withLight(axis)) as 1 | -1;
      return placed(torusSag(datum.diameter / 2, datum.tube / 2, sign), datum.centre, axis);
    }
    default:
      throw new RangeError(`light cannot test the ${datum.kind} ${datum.id}`);
  }
}

/** Whether the surface's axis is that of the substrate, so that a round aperture about it has a round footprint. */
export const isUpright = ({ rotation }: Frame): boolean => Math.abs(rotation[2][2]) > 1 - UPRIGHT;

/** A cosine this near to 1: a microradian. */
const UPRIGHT = 1e-12;
