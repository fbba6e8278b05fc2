/**
 * A right-handed frame: where its origin stands (mm) and how its axes lie in the frame around it.
 * Rotations are intrinsic x-y-z angles in radians: about x, then about the new y, then about the new z.
 */
import { add, dot, subtract, type Vec3 } from './vector.ts';

/** Rows of a rotation matrix: parent = R · child. */
export type Mat3 = readonly [Vec3, Vec3, Vec3];

export interface Frame {
  readonly origin: Vec3;
  readonly rotation: Mat3;
}

/** R = Rx(a)·Ry(b)·Rz(c), the matrix of intrinsic x-y-z angles (radians). */
export function rotationFromAngles([a, b, c]: Vec3): Mat3 {
  const [ca, sa] = [Math.cos(a), Math.sin(a)];
  const [cb, sb] = [Math.cos(b), Math.sin(b)];
  const [cc, sc] = [Math.cos(c), Math.sin(c)];
  return [
    [cb * cc, -cb * sc, sb],
    [ca * sc + sa * sb * cc, ca * cc - sa * sb * sc, -sa * cb],
    [sa * sc - ca * sb * cc, sa * cc + ca * sb * sc, ca * cb],
  ];
}

export const rotate = (rotation: Mat3, v: Vec3): Vec3 => [
  dot(rotation[0], v),
  dot(rotation[1], v),
  dot(rotation[2], v),
];

export const rotateBack = (rotation: Mat3, v: Vec3): Vec3 => [
  rotation[0][0] * v[0] + rotation[1][0] * v[1] + rotation[2][0] * v[2],
  rotation[0][1] * v[0] + rotation[1][1] * v[1] + rotation[2][1] * v[2],
  rotation[0][2] * v[0] + rotation[1][2] * v[1] + rotation[2][2] * v[2],
];

/** A place given in `frame`, in the frame around it. */
export const placeToParent = (frame: Frame, place: Vec3): Vec3 =>
  add(frame.origin, rotate(frame.rotation, place));
/** A place given in the frame around `frame`, in `frame` itself. */
export const placeFromParent = (frame: Frame, place: Vec3): Vec3 =>
  rotateBack(frame.rotation, subtract(place, frame.origin));
/** A direction given in `frame`, in the frame around it. */
export const directionToParent = (frame: Frame, direction: Vec3): Vec3 => rotate(frame.rotation, direction);
