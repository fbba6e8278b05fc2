/** Where captions may stand about a patch: clear of it by a gap, near it, and on the side that a leader points to. mm. */
import { describe, expect, test } from 'vitest';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { boxesMeet, holds } from '../../../src/writing/drawing/boxes.ts';
import {
  baselineOf,
  besides,
  boxBeyond,
  captionBox,
  exitFrom,
} from '../../../src/writing/drawing/captions/caption-placing.ts';

const [WIDTH, HEIGHT] = [11, 2.5];
/** A line with what hangs below and stands above its capitals. */
const TALL = 1.5 * HEIGHT;

test('a caption’s box holds its capitals, and its base line is found again', () => {
  const box = captionBox([3, 7], WIDTH, HEIGHT);
  expect(holds(box, { left: 3, right: 3 + WIDTH, bottom: 7, top: 7 + HEIGHT })).toBe(true);
  expect(box.top - box.bottom).toBeCloseTo(TALL, 12);
  expect(baselineOf(box)).toEqual([3, expect.closeTo(7, 12)]);
});

describe.each([
  ['a large patch', { left: -10, bottom: -6, right: 14, top: 20 }],
  ['a patch smaller than its caption', { left: 1, bottom: 1, right: 2, top: 1.5 }],
])('beside %s', (_, patch) => {
  const places = besides(patch, WIDTH, HEIGHT);

  test('every place has the caption’s size and stands clear of the patch by a gap, no farther', () => {
    for (const box of places) {
      expect(box.right - box.left).toBeCloseTo(WIDTH, 12);
      expect(box.top - box.bottom).toBeCloseTo(TALL, 12);
      const apart = Math.max(
        box.left - patch.right,
        patch.left - box.right,
        box.bottom - patch.top,
        patch.bottom - box.top,
      );
      expect(apart).toBeCloseTo(0.6 * HEIGHT, 12);
      expect(boxesMeet(box, patch)).toBe(false);
    }
  });

  test('above and below come first, and every side has its places', () => {
    // Four each; of a small patch some of them stand past a corner.
    for (const box of places.slice(0, 4)) expect(box.bottom).toBeGreaterThan(patch.top);
    for (const box of places.slice(4, 8)) expect(box.top).toBeLessThan(patch.bottom);
    for (const box of places.slice(8, 12)) expect(box.left).toBeGreaterThan(patch.right);
    for (const box of places.slice(12, 16)) expect(box.right).toBeLessThan(patch.left);
    expect(new Set(places.map(({ left, bottom }) => `${left} ${bottom}`)).size).toBeGreaterThan(15);
  });
});

test.each<[string, Vec2, (box: ReturnType<typeof boxBeyond>) => readonly number[]]>([
  ['right', [1, 0], ({ left, bottom, top }) => [left, (bottom + top) / 2]],
  ['left', [-1, 0], ({ right, bottom, top }) => [right, (bottom + top) / 2]],
  ['right and up', [0.6, 0.8], ({ left, bottom, top }) => [left, (bottom + top) / 2]],
  ['up', [0.1, 0.99], ({ left, right, bottom }) => [(left + right) / 2, bottom]],
  ['down', [-0.2, -0.98], ({ left, right, top }) => [(left + right) / 2, top]],
])(
  'a leader that goes %s ends half a height before the middle of the caption’s near side',
  (side, direction, near) => {
    const knee: Vec2 = [5, -3];
    const box = boxBeyond(knee, direction, WIDTH, HEIGHT);
    const [x, y] = near(box);
    const out: Vec2 = side === 'up' ? [0, 1] : side === 'down' ? [0, -1] : [Math.sign(direction[0]), 0];
    expect(x).toBeCloseTo(knee[0] + 0.5 * HEIGHT * out[0], 12);
    expect(y).toBeCloseTo(knee[1] + 0.5 * HEIGHT * out[1], 12);
    expect([box.right - box.left, box.top - box.bottom]).toEqual([
      expect.closeTo(WIDTH, 12),
      expect.closeTo(TALL, 12),
    ]);
  },
);

test('a ray from the middle leaves a polygon at its last crossing; one that never meets it has no exit', () => {
  const square: readonly Vec2[] = [
    [0, 0],
    [4, 0],
    [4, 4],
    [0, 4],
  ];
  expect(exitFrom(square, [1, 2], [1, 0])).toEqual([4, 2]);
  expect(exitFrom(square, [1, 2], [0, -1])).toEqual([1, 0]);
  expect(exitFrom(square, [-3, 2], [1, 0])).toEqual([4, 2]);
  expect(exitFrom(square, [7, 2], [1, 0])).toBeUndefined();
  expect(exitFrom(square, [7, 9], [1, 0])).toBeUndefined();
});
