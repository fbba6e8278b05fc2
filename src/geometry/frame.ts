/**
 * A right-handed frame: where its origin stands (mm) and how its axes lie in the frame around it.
 * Rotations are intrinsic x-y-z angles in radians: about x, then about the new y, then about the new z.
 */
import { add, cross, dot, negate, subtract, type Vec3 } from './vector.ts';

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

/** Frames as rigid motions x → origin + R·x: first `inner`, then `outer`. */
export const composed = (outer: Frame, inner: Frame): Frame => ({
  origin: add(outer.origin, rotate(outer.rotation, inner.origin)),
  rotation: product(outer.rotation, inner.rotation),
});

export const inverse = ({ origin, rotation }: Frame): Frame => ({
  origin: negate(rotateBack(rotation, origin)),
  rotation: transposed(rotation),
});

/** The small motion [T, θ] that after `motion` does what this one did before it: θ' = Rθ, T' = RT + t × Rθ. */
export function carriedPast(
  { origin, rotation }: Frame,
  small: readonly [Vec3, Vec3],
): readonly [Vec3, Vec3] {
  const turn = rotate(rotation, small[1]);
  return [add(rotate(rotation, small[0]), cross(origin, turn)), turn];
}

const transposed = (m: Mat3): Mat3 => [
  [m[0][0], m[1][0], m[2][0]],
  [m[0][1], m[1][1], m[2][1]],
  [m[0][2], m[1][2], m[2][2]],
];

function product(a: Mat3, b: Mat3): Mat3 {
  const columns = transposed(b).map((column) => rotate(a, column)) as unknown as Mat3;
  return transposed(columns);
}
