/**
 * Freeform sags: heights against their definitions by independent code, first and second derivatives against difference quotients, and the
 * spline's own laws. mm.
 */
import { describe, expect, it, test } from 'vitest';
import { gridSag } from '../../src/geometry/grid-sag.ts';
import { polynomialSag, zernikeSag } from '../../src/geometry/polynomial-sag.ts';
import type { Sag } from '../../src/geometry/sag.ts';
import { deviates } from '../independent/random.ts';
import { zernike } from '../independent/zernike.ts';

type Height = (x: number, y: number) => number;

const at = (sag: Sag, x: number, y: number): Float64Array => {
  const out = new Float64Array(6);
  expect(sag.at(x, y, out)).toBe(true);
  return out;
};

/** Heights of a function on a grid about 0 of 21 by 17 nodes, 5 mm apart. */
const sampled = (height: Height, columns = 21, rows = 17, spacing = 5) => {
  const [x, y] = [(-spacing * (columns - 1)) / 2 + 3, (-spacing * (rows - 1)) / 2 - 2];
  const heights = Float64Array.from({ length: columns * rows }, (_, k) =>
    height(x + (k % columns) * spacing, y + Math.floor(k / columns) * spacing),
  );
  return { x, y, spacing, columns, rows, heights };
};

const cubic: Height = (x, y) =>
  1e-3 * (1 - 2e-2 * x + 3e-4 * x * y - 1e-6 * x ** 3 + 2e-9 * x ** 3 * y ** 2 + 3e-11 * x ** 3 * y ** 3);
const wavy: Height = (x, y) => 1e-3 * Math.cos((2 * Math.PI * (x + 0.6 * y)) / 60);

const CASES: readonly { what: string; sag: Sag; height: Height; bound: number }[] = [
  {
    what: 'powers of x and y',
    sag: polynomialSag([
      { i: 2, j: 1, coefficient: 1e-7 },
      { i: 0, j: 3, coefficient: -2e-7 },
      { i: 5, j: 2, coefficient: 3e-13 },
      { i: 1, j: 0, coefficient: 1e-4 },
    ]),
    height: (x, y) => 1e-7 * x * x * y - 2e-7 * y ** 3 + 3e-13 * x ** 5 * y ** 2 + 1e-4 * x,
    bound: 1e-15,
  },
  ...[
    ...[
      [0, 0],
      [1, -1],
      [2, 0],
      [2, -2],
      [3, 1],
      [3, -3],
      [4, 0],
    ],
    ...[
      [6, -4],
      [7, 5],
      [12, 0],
      [20, 0],
      [20, -14],
      [20, 20],
    ],
  ].map(([n, m]) => ({
    what: `Zernike term n ${n}, m ${m}`,
    sag: zernikeSag(50, [{ n: n!, m: m!, coefficient: 1e-3 }]),
    height: (x: number, y: number) => 1e-3 * zernike(n!, m!, x / 50, y / 50),
    // Eight digits are left of the highest order.
    bound: 1e-11,
  })),
  {
    what: 'a grid of a cubic, which its spline is',
    sag: gridSag(sampled(cubic)),
    height: cubic,
    bound: 1e-16,
  },
  {
    what: 'a grid of four by five nodes of a cubic',
    sag: gridSag(sampled(cubic, 4, 5, 25)),
    height: cubic,
    bound: 1e-16,
  },
];

/** Of the fourth order. */
const quotient = (f: (d: number) => number, h = 0.01): number =>
  (8 * (f(h) - f(-h)) - (f(2 * h) - f(-2 * h))) / (12 * h);

/** Places within each grid and disc; the derivatives' quotients reach 0.02 mm beyond. */
const places = (() => {
  const { uniform } = deviates(5);
  return Array.from({ length: 40 }, () => [68 * uniform() - 30, 66 * uniform() - 34] as const);
})();

describe.each(CASES)('$what', ({ sag, height, bound }) => {
  it('has the height of its definition', () => {
    for (const [x, y] of places) expect(Math.abs(at(sag, x, y)[0]! - height(x, y))).toBeLessThan(bound);
  });

  it('has the slopes of its heights, and the curvatures of its slopes', () => {
    for (const [x, y] of places) {
      const [, zx, zy, zxx, zxy, zyy] = at(sag, x, y);
      const along = (k: number) => quotient((d) => at(sag, x + d, y)[k]!);
      const up = (k: number) => quotient((d) => at(sag, x, y + d)[k]!);
      const pairs = [
        [zx, along(0)],
        [zy, up(0)],
        [zxx, along(1)],
        [zxy, along(2)],
        [zxy, up(1)],
        [zyy, up(2)],
      ];
      for (const [exact, found] of pairs) expect(Math.abs(exact! - found!)).toBeLessThan(2e-8);
    }
  });
});

test('a spline goes through its heights, and has no jump of curvature at a node', () => {
  const { uniform } = deviates(8);
  const grid = sampled(() => 1e-3 * uniform(), 9, 7);
  const sag = gridSag(grid);
  for (let j = 0; j < grid.rows; j++) {
    for (let i = 0; i < grid.columns; i++) {
      const [x, y] = [grid.x + 5 * i, grid.y + 5 * j];
      expect(at(sag, x, y)[0]).toBeCloseTo(grid.heights[j * grid.columns + i]!, 15);
      if (i === 0 || j === 0 || i === grid.columns - 1 || j === grid.rows - 1) continue;
      const [before, after] = [at(sag, x - 1e-7, y - 1e-7), at(sag, x + 1e-7, y + 1e-7)];
      for (let k = 1; k < 6; k++) expect(Math.abs(after[k]! - before[k]!)).toBeLessThan(1e-9);
    }
  }
});

test('the error of a spline falls with the fourth power of the spacing, at its edge too', () => {
  const worst = (spacing: number): number => {
    const grid = sampled(wavy, 1 + 100 / spacing, 1 + 80 / spacing, spacing);
    const sag = gridSag(grid);
    return Array.from({ length: 400 }, (_, k) => {
      const [x, y] = [
        grid.x + 100 * ((k * 0.618) % 1),
        grid.y + (k % 4 === 0 ? 0.1 : 80 * ((k * 0.414) % 1)),
      ];
      return Math.abs(at(sag, x, y)[0]! - wavy(x, y));
    }).reduce((most, one) => Math.max(most, one), 0);
  };
  const ratio = worst(2) / worst(1);
  expect(ratio).toBeGreaterThan(12);
  expect(ratio).toBeLessThan(40);
});

test('there is no surface beyond the grid', () => {
  const grid = sampled(cubic);
  const sag = gridSag(grid);
  const out = new Float64Array(6);
  expect(sag.at(grid.x, grid.y, out)).toBe(true);
  expect(sag.at(grid.x + 100, grid.y + 80, out)).toBe(true);
  for (const [dx, dy] of [
    [-0.01, 1],
    [100.01, 1],
    [1, -0.01],
    [1, 80.01],
  ] as const)
    expect(sag.at(grid.x + dx, grid.y + dy, out)).toBe(false);
});
