import fc from 'fast-check';
import { expect, test } from 'vitest';
import { boundaryOf } from '../../src/geometry/boundary.ts';
import { covers } from '../../src/geometry/contains.ts';
import { areaOf, boundsOf } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { lengthOf, pointAlong } from '../../src/geometry/piece.ts';
import { cross2, distance2, subtract2, type Vec2 } from '../../src/geometry/vector.ts';
import { cutByLine, loopArea, wellInside } from '../../src/pattern/cut-region.ts';
import { outlinePolygons } from '../../src/pattern/zone-outline.ts';
import { arbitraryNumber, arbitraryOutline } from '../geometry/arbitrary-outline.ts';
import { polygonArea } from './point-agreement.ts';

/** A line through a point of the outline's box, so that most cut. */
const cutOutline = fc
  .tuple(arbitraryOutline(), arbitraryNumber(0, 1), arbitraryNumber(0, 1), arbitraryNumber(-4, 4))
  .map(([outline, u, v, angle]) => {
    const { minX, maxX, minY, maxY } = boundsOf(outline);
    const at: Vec2 = [minX + u * (maxX - minX), minY + v * (maxY - minY)];
    return { outline, line: { at, along: [Math.cos(angle), Math.sin(angle)] as Vec2 } };
  });

test('the two sides of a cut are closed loops that share the area', () => {
  fc.assert(
    fc.property(cutOutline, ({ outline, line }) => {
      const { left, right } = cutByLine(boundaryOf(outline), line);
      const area = [...left, ...right].reduce((sum, loop) => sum + loopArea(loop), 0);
      expect(area).toBeCloseTo(areaOf(outline), 6);
      for (const loop of [...left, ...right])
        loop.forEach((piece, k) => {
          const gap = distance2(pointAlong(piece, 1), pointAlong(loop[(k + 1) % loop.length]!, 0));
          expect(gap).toBeLessThan(1e-8);
        });
    }),
    { numRuns: 400 },
  );
});

test('a line through a corner, or along an edge, cuts as any other', () => {
  fc.assert(
    fc.property(
      arbitraryOutline(),
      fc.nat(),
      fc.nat(),
      fc.constantFrom(0, 1e-15, 3e-12, -2e-10, 4e-10, 1e-8),
      (outline, k, m, shift) => {
        const corners = boundaryOf(outline)
          .flat()
          .flatMap((piece) => [pointAlong(piece, 0), pointAlong(piece, 0.25)]);
        const [p, q] = [corners[k % corners.length]!, corners[m % corners.length]!];
        const size = distance2(p, q);
        const along: Vec2 = size > 0 ? [(q[0] - p[0]) / size, (q[1] - p[1]) / size] : [0.6, 0.8];
        const { left, right } = cutByLine(boundaryOf(outline), { at: [p[0] + shift, p[1] - shift], along });
        const area = [...left, ...right].reduce((sum, loop) => sum + loopArea(loop), 0);
        expect(area).toBeCloseTo(areaOf(outline), 5);
      },
    ),
    { numRuns: 500 },
  );
});

test('each side lies on its side, and a point is in one loop where the outline covers it', () => {
  let judged = 0;
  fc.assert(
    fc.property(cutOutline, arbitraryNumber(0, 1), arbitraryNumber(0, 1), ({ outline, line }, u, v) => {
      const { left, right } = cutByLine(boundaryOf(outline), line);
      for (const [side, loops] of [
        [1, left],
        [-1, right],
      ] as const)
        for (const piece of loops.flat())
          for (let k = 0; k <= 4; k++)
            expect(side * cross2(line.along, subtract2(pointAlong(piece, k / 4), line.at))).toBeGreaterThan(
              -1e-7,
            );
      if (isRing(outline)) return;
      const { minX, maxX, minY, maxY } = boundsOf(outline);
      const point: Vec2 = [minX + u * (maxX - minX), minY + v * (maxY - minY)];
      const margin = 1e-6;
      const near = [...left, ...right].flat().some((piece) => {
        for (let k = 0; k <= 1000; k++)
          if (distance2(pointAlong(piece, k / 1000), point) < margin + lengthOf(piece) / 1000) return true;
        return false;
      });
      if (near) return;
      const holders = [...left, ...right].filter((loop) => wellInside(loop, point, margin));
      expect(holders.length).toBe(covers(outline, point) ? 1 : 0);
      judged++;
    }),
    { numRuns: 200 },
  );
  expect(judged).toBeGreaterThan(40);
});

/** A hole that the line misses stays a loop of its own. */
const isRing = (outline: Outline): boolean => outline.shape === 'ring';

test('an outline as polygons without holes covers its area to the tolerance', () => {
  fc.assert(
    fc.property(arbitraryOutline(), (outline) => {
      const tolerance = 1e-5;
      const polygons = outlinePolygons(outline, tolerance);
      const area = polygons.reduce((sum, xy) => sum + polygonArea(xy, xy.length / 2), 0);
      const length = boundaryOf(outline)
        .flat()
        .reduce((sum, piece) => sum + lengthOf(piece), 0);
      expect(Math.abs(area - areaOf(outline))).toBeLessThanOrEqual(tolerance * length + 1e-9);
    }),
    { numRuns: 200 },
  );
});
