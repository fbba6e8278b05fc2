/**
 * How far past the end of its datum a contact lies, where the datum states its extent: the outline of a flat, the length of a
 * cylinder. Part frame, mm.
 *
 * An outline on a flat is in the part's own x and y: x is the part's +x made square to the normal (+y where the normal lies along x),
 * y is square to both, on the side of the part's +y (of +z where it is square to that). Reversing the normal leaves it where it is.
 */
import { depthIn } from '../geometry/contains.ts';
import { cross, dot, negate, subtract, type Vec2, type Vec3 } from '../geometry/vector.ts';
import type { Datum } from './datum.ts';
import { axisOf, azimuthDirection } from './touch-condition.ts';

/** A direction whose share along +y is under this is square to it: 10 µrad, as an axis is taken to lie along x. */
const SQUARE = 1e-5;

/** 0 or less where the point lies within; undefined for a datum without a stated extent. */
export function pastExtent(datum: Datum, point: Vec3): number | undefined {
  if (datum.kind === 'plane' && datum.extent !== undefined)
    return -depthIn(datum.extent, onFlat(datum, point));
  if (datum.kind === 'cylinder' && datum.length !== undefined) {
    const height = dot(subtract(point, datum.point), axisOf(datum).axis);
    return Math.max(-height, height - datum.length);
  }
  return undefined;
}

function onFlat(datum: Flat, point: Vec3): Vec2 {
  const [right, up] = flatAxes(datum);
  const away = subtract(point, datum.point);
  return [dot(away, right), dot(away, up)];
}

/** The directions of x and y of an outline on the flat. */
export function flatAxes(datum: Flat): readonly [right: Vec3, up: Vec3] {
  const { axis } = axisOf(datum);
  const right = azimuthDirection(axis, 0);
  const either = cross(axis, right);
  const side = Math.abs(either[1]) > SQUARE ? either[1] : either[2];
  return [right, side < 0 ? negate(either) : either];
}

type Flat = Extract<Datum, { kind: 'plane' }>;
