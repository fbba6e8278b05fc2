/**
 * A right-handed frame: where its origin stands (mm) and how its axes lie in the frame around it; frames as rigid motions; and
 * rotations from angles and from vectors. Rotations by angles are intrinsic x-y-z angles in radians: about x, then about the new y, then about the new z.
 */
import { portableAtan2, portableCos, portableSin } from '../algebra/portable/math.ts';
import { add, cross, dot, negate, subtract, type Vec3 } from './vector.ts';

/** Rows of a rotation matrix: parent = R · child. */
export type Mat3 = readonly [Vec3, Vec3, Vec3];

export interface Frame {
  readonly origin: Vec3;
  readonly rotation: Mat3;
}

/** R = Rx(a)·Ry(b)·Rz(c), the matrix of intrinsic x-y-z angles (radians). */
export function rotationFromAngles([a, b, c]: Vec3): Mat3 {
  const [ca, sa] = [portableCos(a), portableSin(a)];
  const [cb, sb] = [portableCos(b), portableSin(b)];
  const [cc, sc] = [portableCos(c), portableSin(c)];
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

/** Below this angle of a rotation vector the quotients are their series' first terms to rounding. */
const SMALL = 1e-4;

/**
 * exp of the vector: a rotation about it, right-handed, by an angle in radians as long as it is. Rows: parent = R · child.
 * O. Rodrigues, J. Math. Pures Appl. 5, 380 (1840).
 */
export function rotationFromVector([x, y, z]: Vec3): Mat3 {
  const angle2 = x * x + y * y + z * z;
  const angle = Math.sqrt(angle2);
  const s = angle < SMALL ? 1 - angle2 / 6 : portableSin(angle) / angle;
  const c = angle < SMALL ? 0.5 - angle2 / 24 : (1 - portableCos(angle)) / angle2;
  const d = 1 - c * angle2;
  return [
    [d + c * x * x, c * x * y - s * z, c * x * z + s * y],
    [c * x * y + s * z, d + c * y * y, c * y * z - s * x],
    [c * x * z - s * y, c * y * z + s * x, d + c * z * z],
  ];
}

/** The vector of a rotation by less than π. */
export function rotationVector([r0, r1, r2]: Mat3): Vec3 {
  const [x, y, z] = [r2[1] - r1[2], r0[2] - r2[0], r1[0] - r0[1]];
  const sine2 = Math.sqrt(x * x + y * y + z * z);
  const angle = portableAtan2(sine2, r0[0] + r1[1] + r2[2] - 1);
  if (angle < SMALL) return [x / 2, y / 2, z / 2];
  if (Math.PI - angle > SMALL) {
    const factor = angle / sine2;
    return [x * factor, y * factor, z * factor];
  }
  // Near π the sine says little: the axis from the largest diagonal entry of (R + 1)/2, its sign from what sine there is.
  const symmetric = [
    [1 + r0[0], (r0[1] + r1[0]) / 2, (r0[2] + r2[0]) / 2],
    [(r0[1] + r1[0]) / 2, 1 + r1[1], (r1[2] + r2[1]) / 2],
    [(r0[2] + r2[0]) / 2, (r1[2] + r2[1]) / 2, 1 + r2[2]],
  ] as const;
  const k = [0, 1, 2].reduce((best, i) => (symmetric[i]![i]! > symmetric[best]![best]! ? i : best), 0);
  const [a, b, c] = symmetric[k]!;
  const sign = a * x + b * y + c * z < 0 ? -1 : 1;
  const factor = (sign * angle) / Math.sqrt(a * a + b * b + c * c);
  return [a * factor, b * factor, c * factor];
}
