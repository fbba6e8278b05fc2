import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Vec2 } from '../../src/geometry/vector.ts';
import { simplePolygon } from '../../src/scenario/simple-polygon.ts';

const area = (points: readonly Vec2[]): number =>
  points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length]!;
    return sum + (x * v - u * y) / 2;
  }, 0);

/** Corners around the origin at random radii: simple, counterclockwise. */
const star = fc
  .array(fc.double({ min: 1, max: 10, noNaN: true }), { minLength: 4, maxLength: 40 })
  .map((radii) =>
    radii.map((radius, i): Vec2 => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    }),
  );

describe('simple polygons', () => {
  test('a star about a point is simple, either way round, and comes out counterclockwise', () => {
    fc.assert(
      fc.property(star, fc.boolean(), (corners, reversed) => {
        const found = simplePolygon(reversed ? [...corners].reverse() : corners);
        if (!('points' in found)) throw new Error(found.fault);
        expect(area(found.points)).toBeCloseTo(area(corners), 9);
        expect(area(found.points)).toBeGreaterThan(0);
      }),
    );
  });

  test('two neighbours exchanged cross the edges around them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 60 }), fc.nat(59), (count, at) => {
        const corners = Array.from({ length: count }, (_, i): Vec2 => {
          const angle = (2 * Math.PI * i) / count;
          return [Math.cos(angle), Math.sin(angle)];
        });
        const [i, j] = [at % count, (at + 1) % count];
        [corners[i], corners[j]] = [corners[j]!, corners[i]!];
        expect(simplePolygon(corners)).toHaveProperty('fault');
      }),
    );
  });

  test.each<[string, readonly Vec2[]]>([
    [
      'an edge lying on another',
      [
        [0, 0],
        [4, 0],
        [4, 1],
        [2, 1],
        [2, 0],
        [1, 0],
        [1, 2],
        [0, 2],
      ],
    ],
    [
      'a corner on an edge',
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
    ],
    [
      'two corners in one place',
      [
        [0, 0],
        [2, 1],
        [4, 0],
        [4, 4],
        [2, 1],
        [0, 4],
      ],
    ],
  ])('%s is refused', (_, corners) => expect(simplePolygon(corners)).toHaveProperty('fault'));
});
