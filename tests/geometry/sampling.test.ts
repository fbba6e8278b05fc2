import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundaryOf } from '../../src/geometry/boundary.ts';
import { gapBetween } from '../../src/geometry/clearance.ts';
import { contains, distanceToEdge } from '../../src/geometry/contains.ts';
import { areaOf, extentAlong, narrowestWidth } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { nearPairs } from '../../src/geometry/outline-index.ts';
import { lengthOf, pointAlong } from '../../src/geometry/piece.ts';
import { boundaryPoints, interiorGrid, spacingFor } from '../../src/geometry/sampling.ts';
import { distance2, type Vec2 } from '../../src/geometry/vector.ts';
import { arbitraryNumber, arbitraryOutline } from './arbitrary-outline.ts';
import '../machine/patience.ts';

// The same cases in every run; the laws were also held over some thousands of others.
fc.configureGlobal({ seed: 20_011 });

const listed = ({ xs, ys }: { xs: Float64Array; ys: Float64Array }): Vec2[] =>
  Array.from(xs, (x, i) => [x, ys[i]!]);

describe('boundaryPoints', () => {
  it('lie on the edge, corners among them, none farther from the next than the count allows', () => {
    fc.assert(
      fc.property(arbitraryOutline(), fc.integer({ min: 1, max: 200 }), (outline, count) => {
        const points = listed(boundaryPoints(outline, count));
        expect(points.length).toBeGreaterThanOrEqual(count);
        for (const point of points) expect(distanceToEdge(outline, point)).toBeLessThan(1e-12);
        const pieces = boundaryOf(outline).flat();
        const whole = pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);
        for (const piece of pieces) {
          expect(points.some((point) => distance2(point, pointAlong(piece, 0)) < 1e-12)).toBe(true);
          const middle = pointAlong(piece, 0.37);
          const nearest = Math.min(...points.map((point) => distance2(point, middle)));
          expect(nearest).toBeLessThanOrEqual((whole / count) * 0.5 + 1e-9);
        }
      }),
    );
  });
});

describe('interiorGrid', () => {
  it('lies inside and is never empty', () => {
    fc.assert(
      fc.property(arbitraryOutline(), fc.integer({ min: 50, max: 400 }), (outline, count) => {
        const points = listed(interiorGrid(outline, spacingFor(outline, count)));
        expect(points.length).toBeGreaterThan(0);
        for (const point of points) expect(contains(outline, point)).toBe(true);
      }),
    );
  });

  it('has as many points as the area asks for, where the outline is not thin', () => {
    const disc: Outline = { shape: 'circle', centre: [3, -2], radius: 7 };
    const turned: Outline = { shape: 'rectangle', centre: [1, 1], width: 10, height: 4, rotation: 0.7 };
    expect(interiorGrid(disc, spacingFor(disc, 1000)).xs.length / 1000).toBeCloseTo(1, 1);
    expect(interiorGrid(turned, 1).xs).toHaveLength(40);
  });

  it('is the same twice, and refuses a spacing of nothing', () => {
    const ring: Outline = { shape: 'ring', centre: [0, 0], inner: 9.9, outer: 10 };
    expect(interiorGrid(ring, 5)).toEqual(interiorGrid({ ...ring }, 5));
    expect(interiorGrid(ring, 5).xs.length).toBeGreaterThan(0);
    expect(() => interiorGrid(ring, 0)).toThrow(/more than 0 mm/);
  });
});

describe('narrowestWidth', () => {
  it.each<[string, Outline, number]>([
    ['circle', { shape: 'circle', centre: [1, 1], radius: 2 }, 4],
    ['rectangle', { shape: 'rectangle', centre: [0, 0], width: 10, height: 3, rotation: 1 }, 3],
    ['ring: its wall', { shape: 'ring', centre: [0, 0], inner: 5, outer: 7 }, 2],
    [
      'thin slice: its chord',
      { shape: 'sector', centre: [0, 0], inner: 0, outer: 10, from: 1, to: 1.1 },
      10 * Math.sin(0.1),
    ],
    [
      'quarter disc: square to a side',
      { shape: 'sector', centre: [0, 0], inner: 0, outer: 10, from: 0, to: Math.PI / 2 },
      10,
    ],
    ['half disc', { shape: 'sector', centre: [0, 0], inner: 0, outer: 10, from: 0.5, to: 0.5 + Math.PI }, 10],
    [
      'right triangle: its height',
      {
        shape: 'polygon',
        points: [
          [0, 0],
          [4, 0],
          [0, 3],
        ],
      },
      2.4,
    ],
  ])('%s', (_, outline, width) => {
    expect(narrowestWidth(outline)).toBeCloseTo(width, 10);
  });

  it('is the least over all directions, as far as a fine fan of them shows', () => {
    fc.assert(
      fc.property(arbitraryOutline(5), (outline) => {
        fc.pre(outline.shape !== 'ring');
        const width = narrowestWidth(outline);
        const steps = 720;
        let fan = Number.POSITIVE_INFINITY;
        for (let k = 0; k < steps; k++) {
          const h = (Math.PI * k) / steps;
          const { min, max } = extentAlong(outline, [0, 0], [Math.cos(h), Math.sin(h)]);
          fan = Math.min(fan, max - min);
        }
        expect(width).toBeLessThan(fan + 1e-9);
        const wall = outline.shape === 'sector' && outline.inner > 0 ? outline.outer - outline.inner : fan;
        const { min, max } = extentAlong(outline, [0, 0], [1, 0]);
        const turnOfOneStep = (Math.PI / steps) * (max - min + 40);
        expect(width).toBeGreaterThan(Math.min(fan, wall) - turnOfOneStep);
        expect(areaOf(outline)).toBeGreaterThan(0);
      }),
    );
  });
});

describe('nearPairs', () => {
  it.each([0, 1])('finds none among %i outlines', (count) => {
    expect(nearPairs(Array(count).fill({ shape: 'circle', centre: [0, 0], radius: 1 }), 5)).toEqual([]);
  });

  it('misses no pair nearer than the distance, in the order of the indices', () => {
    fc.assert(
      fc.property(
        fc.array(arbitraryOutline(60), { maxLength: 14 }),
        arbitraryNumber(0, 20),
        (outlines, distance) => {
          const pairs = nearPairs(outlines, distance);
          const keys = pairs.map(([i, j]) => i * 1000 + j);
          expect(keys).toEqual([...new Set(keys)].sort((a, b) => a - b));
          for (const [i, j] of pairs) expect(i).toBeLessThan(j);
          outlines.forEach((a, i) => {
            outlines.slice(i + 1).forEach((b, k) => {
              if (gapBetween(a, b).gap <= distance) expect(keys).toContain(i * 1000 + i + 1 + k);
            });
          });
        },
      ),
      { numRuns: 60 },
    );
  });

  it('keeps to neighbours on a large grid', () => {
    const grid: Outline[] = [];
    for (let k = 0; k < 5000; k++)
      grid.push({ shape: 'circle', centre: [(k % 100) * 3, Math.floor(k / 100) * 3], radius: 1 });
    // A gap of 1 to the four beside, of 3√2 − 2 = 2.24 to the four diagonal; rectangles 1 apart for both.
    expect(nearPairs(grid, 1).length).toBe(99 * 50 + 100 * 49 + 2 * 99 * 49);
    expect(nearPairs(grid, 0.9)).toEqual([]);
  });
});
