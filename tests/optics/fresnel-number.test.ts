import { describe, expect, it } from 'vitest';
import {
  airyDiameter,
  ballFresnelNumber,
  cubeFresnelNumber,
  lineFocusWidth,
} from '../../src/optics/fresnel-number.ts';

const HELIUM_NEON = 632.8e-6;

describe('Fresnel number of the round trip', () => {
  // Figures of common practice, no source beyond the trade.
  it('of a 10 mm patch on a half-inch ball at 300 mm is about 1.4', () => {
    expect(ballFresnelNumber(5, HELIUM_NEON, 300, 6.35)).toBeCloseTo(1.4, 1);
  });

  it('of a 10 mm line focus on a cube at 3 m is about 6.6', () => {
    expect(cubeFresnelNumber(5, HELIUM_NEON, 3000)).toBeCloseTo(6.6, 1);
  });

  it('is half that of the one-way path: a²/(λL) is 1.580278 for 1 mm over 1 m', () => {
    expect(2 * cubeFresnelNumber(1, HELIUM_NEON, 1000)).toBeCloseTo(1.580278, 6);
  });

  it('is a²/(λB), B the ray matrix’s element from the patch there and back', () => {
    // The second way: ray transfer matrices (A. E. Siegman, *Lasers*, ch. 20); lenses at the patch do not change B.
    type Matrix = readonly [a: number, b: number, c: number, d: number];
    const times = ([a, b, c, d]: Matrix, [e, f, g, h]: Matrix): Matrix => [
      a * e + b * g,
      a * f + b * h,
      c * e + d * g,
      c * f + d * h,
    ];
    const run = (length: number): Matrix => [1, length, 0, 1];
    const [a, s, R] = [5, 300, 6.35];
    const convexMirror: Matrix = [1, 0, 2 / R, 1];
    const ball = times(run(s - R), times(convexMirror, run(s - R)));
    expect(ballFresnelNumber(a, HELIUM_NEON, s, R)).toBeCloseTo((a * a) / (HELIUM_NEON * ball[1]), 12);
    // A ball so large that the patch stands in it: the size of the element counts, not its sign.
    const inside = times(run(s - 1000), times([1, 0, 2 / 1000, 1], run(s - 1000)));
    const expected = (a * a) / (HELIUM_NEON * Math.abs(inside[1]));
    expect(ballFresnelNumber(a, HELIUM_NEON, s, 1000)).toBeCloseTo(expected, 12);
    const cube = times(run(s), times([-1, 0, 0, -1], run(s)));
    expect(cubeFresnelNumber(a, HELIUM_NEON, s)).toBeCloseTo((a * a) / (HELIUM_NEON * Math.abs(cube[1])), 12);
  });
});

describe('size of a focus', () => {
  it('at f/10 is an Airy radius of 7.71807 µm and a line’s half-width of 6.328 µm', () => {
    expect(airyDiameter(10, HELIUM_NEON, 100) / 2).toBeCloseTo(7.71807e-3, 8);
    expect(lineFocusWidth(10, HELIUM_NEON, 100) / 2).toBeCloseTo(6.328e-3, 12);
  });
});
