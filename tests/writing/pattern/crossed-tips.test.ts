/** Tips whose sides cross are cut away, nothing else: against every pair of sides tried, one by one. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { withoutCrossedTips } from '../../../src/writing/pattern/crossed-tips.ts';

type Point = readonly [number, number];

function cut(polygon: readonly Point[]): Point[] {
  const points = Int32Array.from(polygon.flat());
  const left = withoutCrossedTips(points, polygon.length);
  return Array.from({ length: left }, (_, k): Point => [points[2 * k]!, points[2 * k + 1]!]);
}

/** The same outline from its vertex at the origin on. */
function fromOrigin(polygon: readonly Point[]): Point[] {
  const at = polygon.findIndex(([x, y]) => x === 0 && y === 0);
  return [...polygon.slice(at), ...polygon.slice(0, at)];
}

const side = ([ax, ay]: Point, [bx, by]: Point, [px, py]: Point): number =>
  Math.sign((bx - ax) * (py - ay) - (by - ay) * (px - ax));

/** Pairs of sides, not neighbours, that have a point in common. */
function crossings(polygon: readonly Point[]): number {
  const sides = polygon.map((from, k) => [from, polygon[(k + 1) % polygon.length]!] as const);
  let found = 0;
  for (const [k, [a, b]] of sides.entries())
    for (const [m, [c, d]] of sides.entries()) {
      if (m <= k + 1 || (k === 0 && m === sides.length - 1)) continue;
      const apart = [0, 1].some(
        (i) =>
          Math.max(a[i]!, b[i]!) < Math.min(c[i]!, d[i]!) || Math.max(c[i]!, d[i]!) < Math.min(a[i]!, b[i]!),
      );
      if (!apart && side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0) found++;
    }
  return found;
}

const twiceArea = (polygon: readonly Point[]): number =>
  polygon.reduce((sum, [x, y], k) => {
    const [p, q] = polygon[(k + 1) % polygon.length]!;
    return sum + x * q - p * y;
  }, 0);

describe('tips of written zones of a ring, 1 nm, as they came', () => {
  test('a fringe traced past its own end on the rim', () => {
    const zone: Point[] = [
      [50561, 147968],
      [25160, 74019],
      [12550, 37018],
      [0, 0],
      [314, 916],
      [-13004, -22672],
      [-39555, -69895],
      [400000, 100000],
    ];
    expect(crossings(zone)).toBe(1);
    const kept = cut(zone);
    expect(crossings(kept)).toBe(0);
    expect(kept).toHaveLength(7);
    expect(kept).toContainEqual([305, 901]);
  });

  test('a fringe and a rim that meet at 0.2 mrad', () => {
    const zone: Point[] = [
      [57258, 77181],
      [41162, 57359],
      [25089, 37518],
      [9040, 17658],
      [0, 0],
      [16932, 33057],
      [33916, 66089],
      [68043, 132082],
    ];
    expect(crossings(zone)).toBe(1);
    const kept = cut(zone);
    expect(crossings(kept)).toBe(0);
    expect(kept).not.toContainEqual([0, 0]);
    expect(kept.length).toBeGreaterThan(5);
  });
});

test('a spike without width is cut to its foot', () => {
  const kept = cut([
    [0, 0],
    [100, 0],
    [100, 50],
    [400, 50],
    [100, 50],
    [100, 100],
    [0, 100],
  ]);
  expect(fromOrigin(kept)).toEqual([
    [0, 0],
    [100, 0],
    [100, 50],
    [100, 100],
    [0, 100],
  ]);
});

test('what is nothing but a spike goes', () => {
  expect(
    cut([
      [0, 0],
      [300, 0],
      [100, 0],
    ]).length,
  ).toBeLessThan(3);
});

test('sharp tips without a crossing stay as they are', () => {
  const wedge: Point[] = [
    [0, 0],
    [100_000, -900],
    [200_000, 0],
    [100_000, 900],
  ];
  expect(cut(wedge)).toEqual(wedge);
});

/** Two chains of vertices from one tip to another, which they leave along each other, each off by up to 5 units: where they run together they may cross. */
const lens = fc.record({
  length: fc.integer({ min: 20_000, max: 400_000 }),
  bow: fc.integer({ min: 30, max: 1000 }),
  lower: fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 2, maxLength: 20 }),
  upper: fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 2, maxLength: 20 }),
  turned: fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
});

test('lenses with rounded, misplaced edges have no crossing left near their tips, and lose no more area than the edges are off', () => {
  let crossed = 0;
  fc.assert(
    fc.property(lens, ({ length, bow, lower, upper, turned }) => {
      const chain = (offsets: readonly number[], height: number): Point[] =>
        offsets.map((offset, k) => {
          const u = (k + 1) / (offsets.length + 1);
          return [u * length, height * (4 * u * (1 - u)) ** 2 + offset];
        });
      const flat: Point[] = [[0, 0], ...chain(lower, 0), [length, 0], ...chain(upper, bow).reverse()];
      const [c, s] = [Math.cos(turned), Math.sin(turned)];
      const zone = flat.map(([x, y]): Point => [Math.round(c * x - s * y), Math.round(s * x + c * y)]);
      if (crossings(zone) > 0) crossed++;
      const kept = cut(zone);
      if (kept.length < 3) return;
      expect(crossings(kept)).toBe(0);
      expect(Math.abs(twiceArea(kept) - twiceArea(zone)) / 2).toBeLessThan(12 * length);
    }),
    { numRuns: 2000, seed: 18 },
  );
  expect(crossed).toBeGreaterThan(20);
});
