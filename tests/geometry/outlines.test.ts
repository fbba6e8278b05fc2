import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundaryOf, polylineOf } from '../../src/geometry/boundary.ts';
import { contains, distanceToEdge } from '../../src/geometry/contains.ts';
import { areaOf, boundsOf, extentAlong, largestDistanceFrom } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { type Loop, pointAlong } from '../../src/geometry/piece.ts';
import { distance2, type Vec2 } from '../../src/geometry/vector.ts';
import {
  arbitraryNumber,
  arbitraryOutline,
  arbitraryPlace,
  edgeByParameter,
  maximise,
} from './arbitrary-outline.ts';
import '../machine/patience.ts';

// The same cases in every run; the laws were also held over some thousands of others.
fc.configureGlobal({ seed: 20_011 });

const DEGREE = Math.PI / 180;
const pacman: Outline = {
  shape: 'sector',
  centre: [0, 0],
  inner: 0,
  outer: 10,
  from: 30 * DEGREE,
  to: 330 * DEGREE,
};
const horseshoe: Outline = {
  shape: 'sector',
  centre: [5, 5],
  inner: 4,
  outer: 6,
  from: -135 * DEGREE,
  to: 135 * DEGREE,
};
const acrossZero: Outline = {
  shape: 'sector',
  centre: [0, 0],
  inner: 2,
  outer: 4,
  from: 350 * DEGREE,
  to: 370 * DEGREE,
};
const ring: Outline = { shape: 'ring', centre: [1, 2], inner: 3, outer: 5 };
// A square with a slot cut from the top down to y = 2.
const slotted: Outline = {
  shape: 'polygon',
  points: [
    [0, 0],
    [10, 0],
    [10, 10],
    [6, 10],
    [6, 2],
    [4, 2],
    [4, 10],
    [0, 10],
  ],
};
const turned: Outline = { shape: 'rectangle', centre: [0, 0], width: 10, height: 2, rotation: 45 * DEGREE };

describe('contains', () => {
  it.each<[string, Outline, Vec2, boolean]>([
    ['sector over 180°: behind its apex', pacman, [-1, 0], true],
    ['sector over 180°: the mouth', pacman, [1, 0], false],
    ['sector over 180°: above the mouth', pacman, [0, 9.9], true],
    ['sector over 180°: its apex', pacman, [0, 0], true],
    ['sector over 180°: beyond the rim', pacman, [-10.001, 0], false],
    ['sector over 180°: on its side', pacman, [5 * Math.cos(30 * DEGREE), 5 * Math.sin(30 * DEGREE)], true],
    ['horseshoe: its opening', horseshoe, [0, 5], false],
    ['horseshoe: its wall', horseshoe, [10, 5], true],
    ['horseshoe: its middle', horseshoe, [5, 5], false],
    ['sector across 0: on +x', acrossZero, [3, 0], true],
    ['sector across 0: just outside', acrossZero, [3 * Math.cos(0.2), 3 * Math.sin(0.2)], false],
    ['ring: its hole', ring, [1, 2], false],
    ['ring: its wall', ring, [1, 6], true],
    ['ring: on its inner edge', ring, [4, 2], true],
    ['concave polygon: in the slot', slotted, [5, 5], false],
    ['concave polygon: under the slot', slotted, [5, 1], true],
    ['concave polygon: level with corners', slotted, [11, 2], false],
    ['concave polygon: a corner', slotted, [4, 2], true],
    ['concave polygon: on an edge', slotted, [6, 7], true],
    ['rectangle turned: on its diagonal axis', turned, [3, 3], true],
    ['rectangle turned: off it', turned, [3, 0], false],
  ])('%s', (_, outline, point, inside) => {
    expect(contains(outline, point)).toBe(inside);
  });

  it('agrees with the winding of the edge about the point', () => {
    fc.assert(
      fc.property(arbitraryOutline(8), arbitraryPlace(25), (outline, point) => {
        fc.pre(distanceToEdge(outline, point) > 1e-3);
        expect(contains(outline, point)).toBe(Math.round(windingOf(boundaryOf(outline), point)) === 1);
      }),
      { numRuns: 300 },
    );
  });

  it('counts every point of the edge as inside', () => {
    fc.assert(
      fc.property(arbitraryOutline(), fc.nat(7), arbitraryNumber(0, 1), (outline, side, t) => {
        const edge = edgeByParameter(outline);
        expect(contains(outline, edge.at(side % edge.sides, t))).toBe(true);
      }),
    );
  });
});

describe('boundaryOf', () => {
  it('closes every loop, outer counterclockwise and holes clockwise, around the exact area', () => {
    fc.assert(
      fc.property(arbitraryOutline(), (outline) => {
        const loops = boundaryOf(outline);
        loops.forEach((loop, which) => {
          loop.forEach((piece, k) => {
            expect(distance2(pointAlong(piece, 1), pointAlong(loop[(k + 1) % loop.length]!, 0))).toBeLessThan(
              1e-12,
            );
          });
          expect(Math.sign(greenArea(loop))).toBe(which === 0 ? 1 : -1);
        });
        const area = loops.reduce((sum, loop) => sum + greenArea(loop), 0);
        expect(area / areaOf(outline)).toBeCloseTo(1, 9);
      }),
    );
  });

  it.each<[string, Outline, number]>([
    ['circle', { shape: 'circle', centre: [3, 4], radius: 2 }, 4 * Math.PI],
    ['ring', ring, 16 * Math.PI],
    ['three quarters of a ring', horseshoe, 15 * Math.PI],
    ['slotted square', slotted, 84],
    ['rectangle', turned, 20],
  ])('area of a %s', (_, outline, area) => {
    expect(areaOf(outline)).toBeCloseTo(area, 12);
  });

  it('takes a polygon given clockwise counterclockwise, and drops a repeated point', () => {
    const points: Vec2[] = [
      [0, 0],
      [0, 2],
      [2, 2],
      [2, 2],
      [2, 0],
    ];
    const [loop] = boundaryOf({ shape: 'polygon', points });
    expect(loop).toHaveLength(4);
    expect(greenArea(loop!)).toBeCloseTo(4, 12);
  });

  it('gives polylines whose bulges hold the same area, a full circle as two halves', () => {
    fc.assert(
      fc.property(arbitraryOutline(), (outline) => {
        for (const loop of boundaryOf(outline)) {
          const vertices = polylineOf(loop);
          expect(vertices.length).toBeGreaterThan(1);
          const area = vertices.reduce((sum, { point, bulge }, k) => {
            const next = vertices[(k + 1) % vertices.length]!.point;
            const chord = distance2(point, next);
            const sweep = 4 * Math.atan(bulge);
            const radius = bulge === 0 ? 0 : chord / (2 * Math.sin(Math.abs(sweep) / 2));
            const cap = (Math.sign(bulge) * radius ** 2 * (Math.abs(sweep) - Math.sin(Math.abs(sweep)))) / 2;
            return sum + (point[0] * next[1] - point[1] * next[0]) / 2 + cap;
          }, 0);
          expect(Math.abs(area - greenArea(loop))).toBeLessThan(1e-7);
        }
      }),
    );
  });
});

describe('extents', () => {
  it.each<[string, Outline, number, number]>([
    ['circle, along 45°', { shape: 'circle', centre: [0, 0], radius: 2 }, -2, 2],
    ['rectangle turned by 45°, along itself', turned, -5, 5],
    ['wide sector, along 45°', pacman, -10, 10],
    ['ring', { shape: 'ring', centre: [0, 0], inner: 1, outer: 3 }, -3, 3],
  ])('%s', (_, outline, min, max) => {
    const extent = extentAlong(outline, [0, 0], [1, 1]);
    expect(extent.min).toBeCloseTo(min, 12);
    expect(extent.max).toBeCloseTo(max, 12);
  });

  it('bounds a sector that crosses no axis by its corners', () => {
    const slice: Outline = { shape: 'sector', centre: [0, 0], inner: 0, outer: 10, from: 0.2, to: 0.3 };
    const { minX, minY, maxX, maxY } = boundsOf(slice);
    expect([minX, minY]).toEqual([0, 0]);
    expect(maxX).toBeCloseTo(10 * Math.cos(0.2), 12);
    expect(maxY).toBeCloseTo(10 * Math.sin(0.3), 12);
  });

  it('agree with the edge searched point by point', () => {
    fc.assert(
      fc.property(
        arbitraryOutline(),
        arbitraryPlace(20),
        arbitraryNumber(-3, 3),
        (outline, from, heading) => {
          const edge = edgeByParameter(outline);
          const d: Vec2 = [Math.cos(heading), Math.sin(heading)];
          const most = (f: (p: Vec2) => number): number =>
            Math.max(
              ...Array.from({ length: edge.sides }, (_, side) =>
                maximise((t) => f(edge.at(side, t)), edge.closed),
              ),
            );
          const along = ([x, y]: Vec2): number => (x - from[0]) * d[0] + (y - from[1]) * d[1];
          const extent = extentAlong(outline, from, d);
          expect(Math.abs(extent.max - most(along))).toBeLessThan(1e-9);
          expect(Math.abs(extent.min + most((p) => -along(p)))).toBeLessThan(1e-9);
          expect(Math.abs(largestDistanceFrom(outline, from) - most((p) => distance2(p, from)))).toBeLessThan(
            1e-9,
          );
        },
      ),
      { numRuns: 60 },
    );
  });

  it('refuses a direction of no length', () => {
    expect(() => extentAlong(ring, [0, 0], [0, 0])).toThrow(/no direction/);
  });
});

/** Turns of the edge about the point, summed over fine steps. */
function windingOf(loops: readonly Loop[], point: Vec2): number {
  let turned = 0;
  for (const piece of loops.flat()) {
    const steps = 2000;
    let before = pointAlong(piece, 0);
    for (let k = 1; k <= steps; k++) {
      const here = pointAlong(piece, k / steps);
      const [ax, ay, bx, by] = [
        before[0] - point[0],
        before[1] - point[1],
        here[0] - point[0],
        here[1] - point[1],
      ];
      turned += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
      before = here;
    }
  }
  return turned / (2 * Math.PI);
}

/** Half the contour integral of x dy − y dx: exact on segments, by the closed form on arcs. */
function greenArea(loop: Loop): number {
  return loop.reduce((sum, piece) => {
    const [p, q] = [pointAlong(piece, 0), pointAlong(piece, 1)];
    if (piece.kind === 'segment') return sum + (p[0] * q[1] - p[1] * q[0]) / 2;
    const { centre, radius, sweep } = piece;
    return sum + (radius ** 2 * sweep + centre[0] * (q[1] - p[1]) - centre[1] * (q[0] - p[0])) / 2;
  }, 0);
}
