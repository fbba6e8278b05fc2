/**
 * Each eikonal against the definition of an optical path (brute-force Fermat, or a ray traced by Snell's law), and each gradient
 * against difference quotients of the same eikonal.
 */
import { describe, expect, test } from 'vitest';
import { cylindricalWave } from '../../src/optics/cylindrical-wave.ts';
import type { Eikonal } from '../../src/optics/eikonal.ts';
import { planeWave } from '../../src/optics/plane-wave.ts';
import { sphericalWave } from '../../src/optics/spherical-wave.ts';
import { type Place, pathThroughEntry, pathThroughExit, toLine } from '../independent/fermat.ts';
import { normed, refract, toPlane, type Vector } from '../independent/ray.ts';

const valueAt = (wave: Eikonal, x: number, y: number): number => {
  const out = new Float64Array(1);
  wave.accumulate(Float64Array.of(x), Float64Array.of(y), 1, out, 1);
  return out[0];
};
const gradientAt = (wave: Eikonal, x: number, y: number): [number, number] => {
  const [gx, gy] = [new Float64Array(1), new Float64Array(1)];
  wave.accumulateGradient(Float64Array.of(x), Float64Array.of(y), 1, gx, gy, 1);
  return [gx[0], gy[0]];
};

/** Two ten-millionths of a wave of 532 nm, mm. */
const PATH_ERROR = 1e-10;
const POINTS: readonly (readonly [number, number])[] = [
  [0, 0],
  [3, -2],
  [40, 51],
  [-70, 12],
];
const SLABS: readonly (readonly [number, number])[] = [
  [0, 1],
  [6.35, 1.457],
  [25, 1.78],
];

describe('incident waves', () => {
  const foci: readonly Place[] = [
    [0, 0, -500],
    [12, -7, -180],
    [0, 0, 900],
    [-9, 4, 150],
  ];
  for (const focus of foci)
    for (const [t, n] of SLABS)
      test(`from or to ${focus} through ${t} mm of index ${n}: the stationary path`, () => {
        const sign = focus[2] < 0 ? 1 : -1;
        const wave = sphericalWave([focus[0], focus[1]], -focus[2] - t, 1, t, n);
        for (const [x, y] of POINTS) {
          const at: Place = [x, y, 0];
          const straight = sign * Math.hypot(x - focus[0], y - focus[1], focus[2]);
          const path = t === 0 ? straight : pathThroughEntry(focus, sign, at, t, n);
          expect(Math.abs(valueAt(wave, x, y) - path)).toBeLessThan(PATH_ERROR);
        }
      });

  test('a ray traced from the focus by Snell’s law arrives with the path and the direction of the eikonal', () => {
    const [t, n] = [12, 1.5];
    const focus: Vector = [5, -3, -260];
    const wave = sphericalWave([5, -3], 260 - t, 1, t, n);
    for (const [a, b] of [
      [0.01, 0.02],
      [0.2, -0.1],
      [-0.35, 0.3],
    ]) {
      const out = normed([a, b, 1]);
      const entry = toPlane(focus, out, -t);
      const inside = refract(out, 1, n);
      const arrival = toPlane(entry.at, inside, 0);
      const [x, y] = arrival.at;
      expect(Math.abs(valueAt(wave, x, y) - (entry.way + n * arrival.way))).toBeLessThan(PATH_ERROR);
      const [gx, gy] = gradientAt(wave, x, y);
      expect(Math.abs(gx - n * inside[0])).toBeLessThan(1e-12);
      expect(Math.abs(gy - n * inside[1])).toBeLessThan(1e-12);
    }
  });

  test('a plane wave advances along its direction', () => {
    const direction = normed([0.1, -0.2, 1]);
    const wave = planeWave(direction);
    expect(valueAt(wave, 10, 20)).toBeCloseTo(10 * direction[0] + 20 * direction[1], 14);
    expect(gradientAt(wave, 3, 4)).toEqual([direction[0], direction[1]]);
  });
});

describe('waves that leave', () => {
  const targets: readonly Place[] = [
    [0, 0, 300],
    [90, -60, 140],
    [300, 200, 2800],
  ];
  const lines: readonly Place[] = [
    [1, 0, 0],
    [0.6, 0.8, 0],
    normed([0.3, 0.8, -0.4]),
    normed([0.7, -0.1, 0.4]),
  ];
  for (const target of targets)
    for (const [t, n] of SLABS) {
      test(`to the point ${target} through ${t} mm of index ${n}`, () => {
        const wave = sphericalWave([target[0], target[1]], target[2] - t, -1, t, n);
        for (const [x, y] of POINTS) {
          const at: Place = [x, y, 0];
          const inAir = (q: Place): number =>
            Math.hypot(q[0] - target[0], q[1] - target[1], q[2] - target[2]);
          const path = t === 0 ? inAir(at) : pathThroughExit(at, t, n, inAir);
          expect(Math.abs(valueAt(wave, x, y) + path)).toBeLessThan(PATH_ERROR);
        }
      });
      for (const line of lines)
        test(`to the line through ${target} along ${line.map((c) => c.toFixed(2))}, ${t} mm of index ${n}`, () => {
          const wave = cylindricalWave(target, line, t, n);
          for (const [x, y] of POINTS) {
            const at: Place = [x, y, 0];
            const inAir = (q: Place): number => toLine(q, target, line);
            const path = t === 0 ? inAir(at) : pathThroughExit(at, t, n, inAir);
            expect(Math.abs(valueAt(wave, x, y) + path)).toBeLessThan(PATH_ERROR);
          }
        });
    }
});

describe('gradients', () => {
  const waves: Record<string, Eikonal> = {
    'diverging, glass before': sphericalWave([3, 2], 480, 1, 20, 1.5),
    converging: sphericalWave([0, 0], -600, 1, 0, 1),
    'converging, glass before': sphericalWave([0, 0], -600, 1, 9, 1.7),
    'point, glass after': sphericalWave([40, 10], 200, -1, 9, 1.7),
    line: cylindricalWave([30, 40, 900], normed([0.2, 0.9, -0.1]), 0, 1),
    'line, glass after': cylindricalWave([30, 40, 300], normed([0.2, 0.9, -0.3]), 12, 1.6),
  };
  test.each(Object.entries(waves))('%s: closed form against differences', (_, wave) => {
    const h = 1e-2;
    const difference = (f: (h: number) => number): number =>
      (8 * (f(h) - f(-h)) - (f(2 * h) - f(-2 * h))) / (12 * h);
    for (const [x, y] of POINTS) {
      const [gx, gy] = gradientAt(wave, x, y);
      expect(Math.abs(gx - difference((d) => valueAt(wave, x + d, y)))).toBeLessThan(1e-10);
      expect(Math.abs(gy - difference((d) => valueAt(wave, x, y + d)))).toBeLessThan(1e-10);
    }
  });

  test('at the centre of a spherical wave the gradient is zero, not undefined', () => {
    expect(gradientAt(sphericalWave([1, 2], 100, 1, 5, 1.5), 1, 2)).toEqual([0, 0]);
  });
});
