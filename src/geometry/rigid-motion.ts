/** Rigid motions x → origin + R·x as frames: one after the other, backwards, and how an error of one shows after another. */
import { type Frame, type Mat3, rotate, rotateBack } from './frame.ts';
import { add, cross, negate, type Vec3 } from './vector.ts';

/** First `inner`, then `outer`. */
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
