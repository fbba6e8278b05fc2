/** A rotation as a vector and back, and against the matrix of single turns. */
import { describe, expect, it } from 'vitest';
import {
  type Mat3,
  rotationFromAngles,
  rotationFromVector,
  rotationVector,
} from '../../src/geometry/frame.ts';
import type { Vec3 } from '../../src/geometry/vector.ts';

const close = (a: Mat3, b: Mat3): number =>
  Math.max(...a.flatMap((row, i) => row.map((entry, j) => Math.abs(entry - b[i]![j]!))));

describe('a rotation vector', () => {
  it.each([0, 1, 2])('along axis %i is the turn about it', (axis) => {
    for (const angle of [1e-7, 5e-5, 0.3, -2.5]) {
      const vector = [0, 1, 2].map((k) => (k === axis ? angle : 0)) as unknown as Vec3;
      expect(close(rotationFromVector(vector), rotationFromAngles(vector))).toBeLessThan(1e-15);
    }
  });

  it.each([
    [[0, 0, 0]],
    [[1e-9, -2e-9, 3e-9]],
    [[6e-5, 6e-5, 6e-5]],
    [[0.1, -0.7, 0.4]],
    [[2, -1, 1.5]],
    [[(Math.PI - 1e-9) * 0.6, 0, (Math.PI - 1e-9) * -0.8]],
    [[0, Math.PI - 3e-5, 0]],
  ] as const)('comes back from its matrix: %j', (vector) => {
    const back = rotationVector(rotationFromVector(vector as Vec3));
    for (const k of [0, 1, 2])
      expect(Math.abs(back[k]! - vector[k]!)).toBeLessThan(1e-11 + 1e-7 * +(Math.hypot(...vector) > 3));
  });
});
