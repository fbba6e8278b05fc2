import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gapBetween, insideMargin } from '../../src/geometry/clearance.ts';
import { contains, distanceToEdge } from '../../src/geometry/contains.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { interiorGrid } from '../../src/geometry/sampling.ts';
import { distance2, type Vec2 } from '../../src/geometry/vector.ts';
import { arbitraryOutline, edgeByParameter } from './arbitrary-outline.ts';
import '../machine/patience.ts';

// The same cases in every run; the laws were also held over some thousands of others.
fc.configureGlobal({ seed: 20_011 });

/** What gapBetween and insideMargin promise, mm. */
const BOUND = 1e-9;
const TURN = Math.PI / 180;

const circle = (x: number, y: number, radius: number): Outline => ({
  shape: 'circle',
  centre: [x, y],
  radius,
});
const box = (x: number, y: number, width: number, height: number, rotation = 0): Outline => ({
  shape: 'rectangle',
  centre: [x, y],
  width,
  height,
  rotation,
});
const ring = (inner: number, outer: number, centre: Vec2 = [0, 0]): Outline => ({
  shape: 'ring',
  centre,
  inner,
  outer,
});
const sector = (inner: number, outer: number, from: number, to: number, centre: Vec2 = [0, 0]): Outline => ({
  shape: 'sector',
  centre,
  inner,
  outer,
  from: from * TURN,
  to: to * TURN,
});
const notched: Outline = {
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

describe('gapBetween, worked by hand', () => {
  it.each<[string, Outline, Outline, number]>([
    ['two circles', circle(0, 0, 2), circle(3, 4, 1), 2],
    ['tangent circles', circle(0, 0, 2), circle(3, 4, 3), 0],
    ['circles that cross', circle(0, 0, 2), circle(1, 0, 2), 0],
    ['a circle inside a circle', circle(0, 0, 5), circle(1, 1, 1), 0],
    ['a circle about the same centre', circle(0, 0, 5), circle(0, 0, 1), 0],
    ['equal circles', circle(3, 1, 5), circle(3, 1, 5), 0],
    ['a circle in the hole of a ring', ring(5, 8), circle(1, 0, 2), 2],
    ['a circle at the middle of the hole', ring(5, 8), circle(0, 0, 2), 3],
    ['a ring in the hole of a ring', ring(5, 8), ring(2, 4), 1],
    ['a ring around a ring, off centre', ring(5, 8), ring(2, 4, [0.25, 0]), 0.75],
    ['a box across a ring’s wall', ring(5, 8), box(5, 0, 1, 1), 0],
    ['a disc over a whole ring', ring(5, 8), circle(0, 0, 20), 0],
    ['a disc over the hole', ring(5, 8), circle(0, 0, 6), 0],
    ['boxes side by side', box(0, 0, 10, 10), box(10.5, 3, 10, 2), 0.5],
    ['boxes corner to corner', box(0, 0, 2, 2), box(5, 6, 2, 2), 5],
    ['boxes that touch at a corner', box(0, 0, 2, 2), box(2, 2, 2, 2), 0],
    ['boxes that share an edge', box(0, 0, 2, 2), box(2, 0, 2, 2), 0],
    ['boxes that share part of an edge', box(0, 0, 2, 2), box(2, 1.5, 2, 2), 0],
    ['one box twice', box(1, 2, 3, 4, 0.3), box(1, 2, 3, 4, 0.3), 0],
    ['boxes that cross without a corner inside', box(0, 0, 10, 1), box(0, 0, 1, 10), 0],
    [
      'a turned box: its corner to a side',
      box(0, 0, 2, 2),
      box(1 + Math.SQRT2 + 0.25, 0, 2, 2, 45 * TURN),
      0.25,
    ],
    ['a box beside a circle', circle(0, 0, 2), box(5, 0, 2, 20), 2],
    ['a box’s corner to a circle', circle(0, 0, 2), box(5, 6, 4, 4), 3],
    ['a box in the mouth of a sector', sector(4, 6, 45, 315), box(3, 0, 2, 2), 4 * Math.sin(45 * TURN) - 1],
    [
      'a circle at the apex of a wide sector: side of the mouth',
      sector(0, 10, 30, 330),
      circle(2, 0, 0.5),
      0.5,
    ],
    ['the tip of a sector to a circle', sector(0, 10, 150, 210), circle(3, 0, 1), 2],
    [
      'a point of a rim outside the sweep is not its own',
      sector(4, 6, 90, 180),
      circle(10, 0, 1),
      Math.hypot(10, 4) - 1,
    ],
    ['concentric sectors one above the other', sector(4, 6, 0, 90), sector(7, 9, 80, 120), 1],
    [
      'concentric sectors side by side',
      sector(4, 6, 0, 80),
      sector(4, 6, 90, 120),
      2 * 4 * Math.sin(5 * TURN),
    ],
    ['concentric sectors that share a side', sector(4, 6, 0, 80), sector(4, 6, 80, 120), 0],
    ['sectors whose sweeps cross 0', sector(4, 6, 350, 370), sector(7, 8, -5, 5), 1],
    ['a box in the slot of a polygon', notched, box(5, 6, 1, 1), 0.5],
    ['a circle in the slot of a polygon', notched, circle(5, 3, 0.25), 0.75],
  ])('%s', (_, a, b, expected) => {
    for (const [p, q] of [
      [a, b],
      [b, a],
    ] as const) {
      const found = gapBetween(p, q);
      expect(Math.abs(found.gap - expected)).toBeLessThan(BOUND);
      expect(Math.abs(distance2(...found.at) - expected)).toBeLessThan(BOUND);
      expect(contains(p, found.at[0]) && contains(q, found.at[1])).toBe(true);
    }
  });

  it('keeps its digits a metre from the origin', () => {
    expect(gapBetween(circle(1000, 1000, 2), circle(1003, 1004, 1)).gap).toBeCloseTo(2, 10);
  });
});

describe('gapBetween against brute force', () => {
  it('is the least distance between any two points of the edges, to 1e-9 mm, where the regions are apart', () => {
    let apart = 0;
    fc.assert(
      fc.property(arbitraryOutline(), arbitraryOutline(), (a, b) => {
        const { gap, at } = gapBetween(a, b);
        expect(contains(a, at[0]) && contains(b, at[1])).toBe(true);
        expect(Math.abs(distance2(...at) - gap)).toBeLessThan(BOUND);
        if (gap === 0) return;
        apart++;
        const brute = leastDistance(a, b);
        // The search may stop short of the least, never below it.
        expect(gap).toBeLessThan(brute + BOUND);
        expect(brute).toBeLessThan(gap + BOUND);
      }),
      { numRuns: 50 },
    );
    expect(apart).toBeGreaterThan(20);
  });

  it('is 0 with a common point, or else no point of either lies in the other', () => {
    fc.assert(
      fc.property(arbitraryOutline(12), arbitraryOutline(12), (a, b) => {
        const { gap, at } = gapBetween(a, b);
        if (gap === 0) {
          expect(contains(a, at[0]) && contains(b, at[0])).toBe(true);
          return;
        }
        for (const [p, q] of [
          [a, b],
          [b, a],
        ] as const) {
          const { xs, ys } = interiorGrid(p, 0.7);
          for (let i = 0; i < xs.length; i++) expect(contains(q, [xs[i]!, ys[i]!])).toBe(false);
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe('insideMargin', () => {
  it.each<[string, Outline, Outline, number]>([
    ['a circle in a disc', circle(0, 0, 10), circle(3, 4, 2), 3],
    ['a concentric circle', circle(0, 0, 10), circle(0, 0, 4), 6],
    ['a box in a box', box(0, 0, 20, 20), box(2, 0, 4, 4), 6],
    ['touching from inside', circle(0, 0, 10), circle(8, 0, 2), 0],
    ['a shared edge', box(0, 0, 20, 20), box(8, 0, 4, 4), 0],
    ['the outline itself', box(1, 2, 3, 4, 0.3), box(1, 2, 3, 4, 0.3), 0],
    ['across the edge', circle(0, 0, 10), circle(10, 0, 2), -2],
    ['wholly outside: the far side counts', circle(0, 0, 10), circle(20, 0, 2), -12],
    ['larger all round', circle(0, 0, 10), circle(0, 0, 12), -2],
    ['a box off a corner', box(0, 0, 20, 20), box(10, 10, 6, 8), -5],
    ['in the wall of a ring', ring(10, 20), circle(15, 0, 2), 3],
    ['reaching into the bore of a ring', ring(10, 20), circle(11, 0, 3), -2],
    ['in the bore of a ring', ring(10, 20), circle(0, 0, 3), -10],
    ['over the bore of a ring', ring(10, 20), circle(0, 0, 15), -10],
    ['a ring in a ring around the bore', ring(10, 20), ring(12, 17), 2],
    ['a ring in a ring, its hole too small', ring(10, 20), ring(9, 17), -1],
    ['in a wide sector', sector(0, 20, 45, 315), circle(-10, 0, 2), 8],
    ['near the side of a wide sector', sector(0, 20, 90, 360), circle(-2, 5, 1), 1],
    ['in the mouth of a wide sector', sector(0, 20, 90, 360), circle(5, 5, 1), -5 - Math.SQRT1_2],
    ['under the slot of a polygon', notched, box(5, 1, 2, 0.5), 0.75],
    ['across the slot of a polygon', notched, box(5, 6, 6, 1), -1],
  ])('%s', (_, container, outline, margin) => {
    expect(Math.abs(insideMargin(container, outline) - margin)).toBeLessThan(margin < 0 ? 2e-6 : BOUND);
  });

  it('is what the points of the outline say', () => {
    fc.assert(
      fc.property(
        arbitraryOutline(6),
        arbitraryOutline(6),
        fc.constantFrom(1, 3),
        (container, outline, factor) => {
          const large = enlarged(container, factor);
          const margin = insideMargin(large, outline);
          const { xs, ys } = interiorGrid(outline, 0.8);
          const points = Array.from(xs, (x, i): Vec2 => [x, ys[i]!]);
          const edge = edgeByParameter(outline);
          for (let side = 0; side < edge.sides; side++)
            for (let k = 0; k < 40; k++) points.push(edge.at(side, k / 40));
          if (margin > 0)
            for (const point of points) {
              expect(contains(large, point)).toBe(true);
              expect(distanceToEdge(large, point)).toBeGreaterThan(margin - BOUND);
            }
          else {
            const onEdge = points.slice(xs.length);
            const out = Math.max(
              ...onEdge.map((point) => (contains(large, point) ? 0 : distanceToEdge(large, point))),
            );
            expect(-margin).toBeGreaterThan(out - 2e-6);
          }
        },
      ),
      { numRuns: 150 },
    );
  });
});

function enlarged(outline: Outline, factor: number): Outline {
  switch (outline.shape) {
    case 'circle':
      return { ...outline, radius: factor * outline.radius };
    case 'ellipse':
    case 'rectangle':
      return { ...outline, width: factor * outline.width, height: factor * outline.height };
    case 'polygon':
      return { ...outline, points: outline.points.map(([x, y]): Vec2 => [factor * x, factor * y]) };
    default:
      return { ...outline, inner: factor * outline.inner, outer: factor * outline.outer };
  }
}

/** Both edges sampled, then the nearest pairs of each two sides narrowed by a compass search in the two parameters. */
function leastDistance(a: Outline, b: Outline): number {
  const [edgeA, edgeB] = [edgeByParameter(a), edgeByParameter(b)];
  const samples = 48;
  const starts: { away: number; i: number; j: number; s: number; t: number }[] = [];
  for (let i = 0; i < edgeA.sides; i++)
    for (let j = 0; j < edgeB.sides; j++) {
      const onB = Array.from({ length: samples + 1 }, (_, k) => edgeB.at(j, k / samples));
      const nearest = Array.from({ length: samples + 1 }, (_, k) => {
        const p = edgeA.at(i, k / samples);
        const aways = onB.map((q) => distance2(p, q));
        const away = Math.min(...aways);
        return { away, i, j, s: k / samples, t: aways.indexOf(away) / samples };
      });
      // Every dip along the side of a: the least of all need not be the lowest sample.
      const height = (k: number): number => nearest[k]?.away ?? Number.POSITIVE_INFINITY;
      starts.push(...nearest.filter(({ away }, k) => away <= height(k - 1) && away <= height(k + 1)));
    }
  starts.sort((p, q) => p.away - q.away);
  const bring = (edge: { closed: boolean }, t: number): number =>
    edge.closed ? t : Math.min(1, Math.max(0, t));
  const narrowed = ({ i, j, s, t }: { i: number; j: number; s: number; t: number }): number => {
    const away = (u: number, v: number): number => distance2(edgeA.at(i, u), edgeB.at(j, v));
    let best = away(s, t);
    for (let step = 1 / samples; step > 1e-13; ) {
      let helped = false;
      for (const [ds, dt] of COMPASS) {
        const [u, v] = [bring(edgeA, s + ds * step), bring(edgeB, t + dt * step)];
        const value = away(u, v);
        if (value < best) [best, s, t, helped] = [value, u, v, true];
      }
      if (!helped) step /= 2;
    }
    return best;
  };
  return Math.min(...starts.slice(0, 10).map(narrowed));
}

const COMPASS = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
  [1, 1],
  [-1, -1],
  [1, -1],
  [-1, 1],
] as const;
