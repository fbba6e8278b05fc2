/**
 * A rotation as a vector: along its axis, right-handed, as long as its angle in radians. Rows of a matrix: parent = R · child.
 * O. Rodrigues, J. Math. Pures Appl. 5, 380 (1840).
 */
import type { Mat3 } from './frame.ts';
import type { Vec3 } from './vector.ts';

/** Below this angle the quotients are their series' first terms to rounding. */
const SMALL = 1e-4;

/** exp of the vector. */
export function rotationFromVector([x, y, z]: Vec3): Mat3 {
  const angle2 = x * x + y * y + z * z;
  const angle = Math.sqrt(angle2);
  const s = angle < SMALL ? 1 - angle2 / 6 : Math.sin(angle) / angle;
  const c = angle < SMALL ? 0.5 - angle2 / 24 : (1 - Math.cos(angle)) / angle2;
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
  const angle = Math.atan2(sine2, r0[0] + r1[1] + r2[2] - 1);
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
