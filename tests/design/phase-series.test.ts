/**
 * Which phases are so smooth that a polynomial surely holds them: against the polynomial that is then fitted, and for phases that none
 * of degree 10 holds, by what they are. u and v are x and y over the radius of the disc; waves.
 */
import { describe, expect, test } from 'vitest';
import type { Pattern } from '../../src/design/pattern.ts';
import { PatternPhase } from '../../src/design/pattern-phase.ts';
import { FIT_BOUND, fitPhase } from '../../src/design/phase-fit.ts';
import { isSurelyHeld } from '../../src/design/phase-series.ts';
import { gridSag } from '../../src/geometry/grid-sag.ts';
import { polynomialSag } from '../../src/geometry/polynomial-sag.ts';
import { asphereSag, sumOfSags } from '../../src/geometry/sag.ts';
import { tracedEikonal } from '../../src/optics/eikonal.ts';

const RADIUS = 10;

function patternOf(phase: (u: number, v: number) => number): Pattern {
  const wave = (path: (u: number, v: number) => number) =>
    tracedEikonal(
      (x, y, ray) => {
        ray.path = path(x / RADIUS, y / RADIUS);
      },
      () => 0,
    );
  return {
    id: 'tried',
    outline: { shape: 'circle', centre: [0, 0], radius: RADIUS },
    centre: [0, 0],
    order: 1,
    bias: undefined,
    phase: new PatternPhase(
      wave(() => 0),
      wave(phase),
      1,
      1,
      [0, 0],
      undefined,
    ),
  };
}

/** The wave from a point `distance` radii above the disc: singular at u² + v² = −distance². */
const pointWave = (distance: number) => (u: number, v: number) => 1000 * Math.hypot(u, v, distance);

/** T_n, also where rounding puts the edge beyond 1. */
const chebyshev = (n: number, u: number) => Math.cos(n * Math.acos(Math.max(-1, Math.min(1, u))));

describe('a phase that is held', () => {
  test.each([
    ['a tilt and a power', (u: number, v: number) => 3000 * u - 500 * v + 2000 * (u * u + v * v)],
    ['of degree 10', (u: number, v: number) => 5 * u ** 7 * v ** 3],
    ['an exponential', (u: number, v: number) => Math.exp(u - v / 2)],
    ['the wave from a far point', pointWave(12)],
  ])('%s: the polynomial fitted to it is within the bound', (_, phase) => {
    const pattern = patternOf(phase);
    expect(isSurelyHeld(pattern, FIT_BOUND)).toBe(true);
    expect(fitPhase(pattern).residual.worst).toBeLessThan(FIT_BOUND);
  });
});

test.each([
  ['a kink along a line', (u: number) => Math.abs(u - 0.1)],
  ['a kink at a point, as a cone has', (u: number, v: number) => Math.hypot(u, v)],
  ['the wave from a near point', pointWave(0.5)],
  // At the thirteen points cos 26θ is cos 0, and cos 20θ is −cos 6θ: the series takes them for low degrees.
  ['T20, which the points take for T6', (u: number) => 0.01 * chebyshev(20, u)],
  ['T26, which the points take for a piston', (_: number, v: number) => 0.01 * chebyshev(26, v)],
  ['a high power at the edge', (u: number) => 0.02 * u ** 20],
  ['no phase outside of the disc', (u: number, v: number) => (u * u + v * v > 1.01 ? Number.NaN : u)],
])('nothing is said of %s', (_, phase) => {
  expect(isSurelyHeld(patternOf(phase), FIT_BOUND)).toBe(false);
});

test('the wider the bound, the more is held: from as little as a hundredth of it', () => {
  const ripple = patternOf((u, v) => 1e-3 * Math.cos(12 * u + v));
  const held = [1e-4, 1e-3, 1e-2, 1e-1, 1].map((bound) => isSurelyHeld(ripple, bound));
  expect(held).toEqual([...held].sort());
  expect(held[1]).toBe(false);
  expect(held[4]).toBe(true);
});

test('a surface with a grid among its sags is made of pieces, for which the series is not asked', () => {
  const grid = gridSag({ x: -2, y: -2, spacing: 1, columns: 5, rows: 5, heights: new Float64Array(25) });
  const base = asphereSag(-1 / 800, -1);
  expect(sumOfSags([base, grid]).isPieced).toBe(true);
  expect(sumOfSags([base, polynomialSag([{ i: 2, j: 1, coefficient: 1e-9 }])]).isPieced).toBe(false);
});
