/**
 * The rigid motion that carries points nearest to others, in closed form: the rotation as the eigenvector of the largest
 * eigenvalue of a 4 × 4 matrix, never a mirror image. B. K. P. Horn, J. Opt. Soc. Am. A 4, 629 (1987).
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import { type Frame, type Mat3, rotate } from '../../geometry/frame.ts';
import { add, dot, length, scale, subtract, type Vec3 } from '../../geometry/vector.ts';

/** The rotation R that makes Σ |to − R·from|² least. */
export function bestRotation(from: readonly Vec3[], to: readonly Vec3[]): Mat3 {
  const s = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => from.reduce((sum, a, k) => sum + a[i]! * to[k]![j]!, 0)),
  );
  const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = s as unknown as Mat3;
  const n = Float64Array.of(
    ...[xx + yy + zz, yz - zy, zx - xz, xy - yx],
    ...[yz - zy, xx - yy - zz, xy + yx, zx + xz],
    ...[zx - xz, xy + yx, yy - xx - zz, yz + zy],
    ...[xy - yx, zx + xz, yz + zy, zz - xx - yy],
  );
  const [w, x, y, z] = symmetricEigen(n, 4).vectors[0]! as unknown as readonly [
    number,
    number,
    number,
    number,
  ];
  return [
    [w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z],
  ];
}

/** The motion x → origin + R·x that makes Σ |to − (origin + R·from)|² least, the root of the mean of those squares, and each one's root. */
export function rigidStart(
  from: readonly Vec3[],
  to: readonly Vec3[],
): { readonly motion: Frame; readonly rms: number; readonly residuals: readonly number[] } {
  const [a, b] = [meanOf(from), meanOf(to)];
  const rotation = bestRotation(
    from.map((p) => subtract(p, a)),
    to.map((p) => subtract(p, b)),
  );
  const motion = { rotation, origin: subtract(b, rotate(rotation, a)) };
  const residuals = from.map((p, k) => length(subtract(to[k]!, add(motion.origin, rotate(rotation, p)))));
  const squares = residuals.reduce((sum, e) => sum + e * e, 0);
  return { motion, rms: Math.sqrt(squares / from.length), residuals };
}

export const meanOf = (points: readonly Vec3[]): Vec3 =>
  scale(points.reduce(add, [0, 0, 0]), 1 / points.length);

/** Root mean square distance of the points from their mean, mm. */
export function spreadOf(points: readonly Vec3[]): number {
  const middle = meanOf(points);
  const squares = points.reduce((sum, p) => {
    const from = subtract(p, middle);
    return sum + dot(from, from);
  }, 0);
  return Math.sqrt(squares / points.length);
}
