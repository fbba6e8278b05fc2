/**
 * From the words of a scenario to places and directions: frames from intrinsic x-y-z angles (radians), unit vectors, and
 * places of the part frame in the substrate frame. Lengths mm.
 */
import { type Frame, placeToParent, rotationFromAngles } from '../geometry/frame.ts';
import { dot, length, squareTo, unit, type Vec3 } from '../geometry/vector.ts';

export type { Frame } from '../geometry/frame.ts';
export type { Outline } from '../geometry/outline.ts';
export type { Vec2, Vec3 } from '../geometry/vector.ts';

/** The frame whose origin stands at `origin` and whose axes are turned by `angles`. No entry of the matrix is -0. */
export function frameAt(origin: Vec3, angles: Vec3): Frame {
  const [x, y, z] = rotationFromAngles(angles);
  return { origin, rotation: [withoutNegativeZero(x), withoutNegativeZero(y), withoutNegativeZero(z)] };
}

const withoutNegativeZero = ([x, y, z]: Vec3): Vec3 => [x + 0, y + 0, z + 0];

/** A place of the part frame, in the substrate frame. */
export const inSubstrateFrame = (part: Frame, place: Vec3): Vec3 => placeToParent(part, place);

/** The unit vector along `direction`; undefined where it has none. */
export function unitDirection(direction: Vec3): Vec3 | undefined {
  const largest = Math.max(...direction.map(Math.abs));
  if (!(largest > 0) || !Number.isFinite(largest)) return undefined;
  // Squares of such entries neither overflow nor vanish; others are brought near 1 first.
  const safe = largest > 1e-100 && largest < 1e100;
  const [x, y, z] = direction;
  return withoutNegativeZero(unit(safe ? direction : [x / largest, y / largest, z / largest]));
}

/** Directions given as square to each other may miss it by this much, as a cosine: their decimals' rounding. */
const SQUARENESS_TOLERANCE = 1e-6;

/** `direction` made exactly square to the unit vector `axis`; undefined where it is not square to begin with. */
export function squaredUp(direction: Vec3, axis: Vec3): Vec3 | undefined {
  if (Math.abs(dot(direction, axis)) > SQUARENESS_TOLERANCE * length(direction)) return undefined;
  return unitDirection(squareTo(direction, axis));
}
