/** What keeps captions apart: segments, boxes and polygons against points run along them, at random and at their limits. */
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { isInPolygon } from '../../../src/geometry/contains.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import {
  boxesMeet,
  boxOf,
  holds,
  runMeetsBox,
  runOf,
  runsCross,
  runsInPolygons,
} from '../../../src/writing/drawing/boxes.ts';

const { uniform } = randomFrom('boxes');
const point = (): Vec2 => [20 * uniform() - 4, 20 * uniform() - 13];
const along = (a: Vec2, b: Vec2, t: number): Vec2 => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];

/** Where the lines through a, b and c, d meet, as parts of either: Cramer's rule. */
function meeting(a: Vec2, b: Vec2, c: Vec2, d: Vec2): readonly [number, number] {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const [wx, wy] = [c[0] - a[0], c[1] - a[1]];
  const determinant = vx * uy - ux * vy;
  return [(vx * wy - wx * vy) / determinant, (ux * wy - wx * uy) / determinant];
}

test('two segments cross where the meeting of their lines lies on both', () => {
  const seen = [0, 0];
  for (let n = 0; n < 500; n++) {
    const [a, b, c, d] = [point(), point(), point(), point()];
    const crosses = meeting(a, b, c, d).every((t) => t > 0 && t < 1);
    seen[crosses ? 1 : 0]++;
    expect(runsCross(runOf(a, b), runOf(c, d))).toBe(crosses);
  }
  expect(Math.min(...seen)).toBeGreaterThan(50);
});

test('a segment meets a box where some point of it lies inside', () => {
  const seen = [0, 0];
  for (let n = 0; n < 500; n++) {
    const [a, b, box] = [point(), point(), boxOf([point(), point()])];
    const meets = Array.from({ length: 2001 }, (_, k) => along(a, b, k / 2000)).some(
      ([x, y]) => x > box.left && x < box.right && y > box.bottom && y < box.top,
    );
    const told = runMeetsBox(runOf(a, b), box);
    // A corner cut by less than a step of the points is the one thing that they may miss.
    if (meets || !told) expect(told).toBe(meets);
    seen[meets ? 1 : 0]++;
  }
  expect(Math.min(...seen)).toBeGreaterThan(50);
});

test.each<[string, Vec2, Vec2, boolean]>([
  ['level, through it', [-1, 1], [5, 1], true],
  ['level, above it', [-1, 3], [5, 3], false],
  ['level, ending before it', [-3, 1], [-1, 1], false],
  ['upright, through it', [1, -1], [1, 5], true],
  ['upright, beside it', [3, -1], [3, 5], false],
  ['within it', [0.5, 0.5], [1.5, 1], true],
  ['past its corner', [1.5, 3], [3, 1.5], false],
])('a segment %s', (_, from, to, meets) => {
  expect(runMeetsBox(runOf(from, to), { left: 0, bottom: 0, right: 2, top: 2 })).toBe(meets);
});

describe('boxes', () => {
  const box = { left: 0, bottom: 0, right: 4, top: 2 };
  test.each([
    ['beside it, touching', { left: 4, bottom: 0, right: 6, top: 2 }, false],
    ['beside it, over the side', { left: 3.9, bottom: 0, right: 6, top: 2 }, true],
    ['above it, touching', { left: 0, bottom: 2, right: 4, top: 3 }, false],
    ['below it, over the side', { left: 1, bottom: -1, right: 2, top: 0.1 }, true],
    ['left of it', { left: -3, bottom: 0, right: -1, top: 2 }, false],
    ['within it', { left: 1, bottom: 1, right: 2, top: 1.5 }, true],
  ])('one %s', (_, other, meets) => {
    expect([boxesMeet(box, other), boxesMeet(other, box)]).toEqual([meets, meets]);
  });

  test('hold what leaves them on no side, themselves too', () => {
    expect(holds(box, box)).toBe(true);
    for (const side of ['left', 'bottom'] as const) expect(holds(box, { ...box, [side]: -0.1 })).toBe(false);
    expect(holds(box, { ...box, right: 4.1 })).toBe(false);
    expect(holds(box, { ...box, top: 2.1 })).toBe(false);
  });
});

describe('polygons', () => {
  /** An L: a square of 4 without its upper right quarter. */
  const L: readonly Vec2[] = [
    [0, 0],
    [4, 0],
    [4, 2],
    [2, 2],
    [2, 4],
    [0, 4],
  ];

  test('hold what lies in the square and not in the missing quarter', () => {
    for (let n = 0; n < 500; n++) {
      const [x, y] = [6 * uniform() - 1, 6 * uniform() - 1];
      const inSquare = x > 0 && x < 4 && y > 0 && y < 4;
      expect(isInPolygon(L, [x, y])).toBe(inSquare && !(x > 2 && y > 2));
    }
  });

  test('a line runs inside where its points are, holes left out', () => {
    const hole: readonly Vec2[] = [
      [0.5, 0.5],
      [1.5, 0.5],
      [1.5, 1.5],
      [0.5, 1.5],
    ];
    expect(runsInPolygons([-1, 1], [1, 0], [L, hole])).toEqual([
      [1, 1.5],
      [2.5, 5],
    ]);
    expect(runsInPolygons([3, 9], [0, -1], [L])).toEqual([[7, 9]]);
    expect(runsInPolygons([5, 0], [0, 1], [L])).toEqual([]);
    for (let n = 0; n < 100; n++) {
      const [at, angle] = [point(), 2 * Math.PI * uniform()];
      const direction: Vec2 = [Math.cos(angle), Math.sin(angle)];
      const runs = runsInPolygons(at, direction, [L, hole]);
      for (let t = -30; t < 30; t += 0.37) {
        const place: Vec2 = [at[0] + t * direction[0], at[1] + t * direction[1]];
        const inside = isInPolygon(L, place) && !isInPolygon(hole, place);
        expect(runs.some(([from, to]) => from < t && t < to)).toBe(inside);
      }
    }
  });
});
