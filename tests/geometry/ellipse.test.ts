/**
 * Ellipses as outlines, against closed forms, against points by the parameter t of (a cos t, b sin t), and against each other: they are
 * made of arcs that stand at most ELLIPSE_TOLERANCE from the true edge. mm, radians.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundaryOf, polylineOf } from '../../src/geometry/boundary.ts';
import { gapBetween, insideMargin } from '../../src/geometry/clearance.ts';
import { contains, distanceToEdge } from '../../src/geometry/contains.ts';
import { ELLIPSE_TOLERANCE } from '../../src/geometry/ellipse-edge.ts';
import { areaOf, boundsOf, extentAlong, narrowestWidth } from '../../src/geometry/extent.ts';
import type { EllipseOutline, Outline } from '../../src/geometry/outline.ts';
import { type Arc, pointAlong } from '../../src/geometry/piece.ts';
import { interiorGrid, spacingFor } from '../../src/geometry/sampling.ts';
import { distance2, type Vec2 } from '../../src/geometry/vector.ts';
import { loopArea } from '../../src/pattern/cut-region.ts';
import {
  arbitraryNumber,
  arbitraryOutline,
  arbitraryPlace,
  edgeByParameter,
  maximise,
} from './arbitrary-outline.ts';

const ellipse = (width: number, height: number, rotation = 0, centre: Vec2 = [0, 0]): EllipseOutline => ({
  shape: 'ellipse',
  centre,
  width,
  height,
  rotation,
});
const arbitraryEllipse: fc.Arbitrary<EllipseOutline> = fc
  .tuple(
    arbitraryNumber(0.5, 60),
    arbitraryNumber(0.02, 1),
    arbitraryNumber(-4, 4),
    arbitraryPlace(30),
    fc.boolean(),
  )
  .map(([long, share, rotation, centre, upright]) =>
    ellipse(upright ? long * share : long, upright ? long : long * share, rotation, centre),
  );
const arcsOf = (outline: Outline): readonly Arc[] => boundaryOf(outline)[0] as readonly Arc[];
/** The arcs' own tolerance, and the rounding of sines and roots some tens of mm from the origin. */
const TOLERANCE = 1.05 * ELLIPSE_TOLERANCE;

/** The distance from a point to the true ellipse, by search along its parameter. */
const trueDistance = (outline: EllipseOutline, point: Vec2): number => {
  const edge = edgeByParameter(outline);
  return -maximise((t) => -distance2(edge.at(0, t), point), true, 512);
};

describe('the edge of an ellipse', () => {
  it.each([
    [12, 8],
    [300, 30],
    [10, 1e4],
    [1e4, 10],
    [0.1, 1e-4],
    [1e-4, 1e-4],
  ])(
    'of %d × %d mm is arcs that run smoothly into each other, no point of them off the ellipse',
    (width, height) => {
      const outline = ellipse(width, height, 0.3, [3, -4]);
      const arcs = arcsOf(outline);
      const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
      const [a, b] = [width / 2, height / 2];
      arcs.forEach((arc, k) => {
        const next = arcs[(k + 1) % arcs.length]!;
        expect(distance2(pointAlong(arc, 1), pointAlong(next, 0))).toBeLessThan(1e-8);
        expect(Math.abs(Math.sin(arc.start + arc.sweep - next.start))).toBeLessThan(1e-8);
        expect(arc.sweep).toBeGreaterThan(0);
        for (let j = 0; j <= 10; j++) {
          const [x, y] = pointAlong(arc, j / 10);
          const [u, v] = [(x - 3) * c + (y + 4) * s, (y + 4) * c - (x - 3) * s];
          // To first order in the distance: the equation over its gradient.
          const off = ((u / a) ** 2 + (v / b) ** 2 - 1) / (2 * Math.hypot(u / a ** 2, v / b ** 2));
          expect(Math.abs(off)).toBeLessThan(TOLERANCE);
        }
      });
      // Centres of kilometres of radius are rounded, and the turns with them.
      expect(arcs.reduce((sum, { sweep }) => sum + sweep, 0)).toBeCloseTo(2 * Math.PI, 6);
      expect(Math.abs(loopArea(arcs) - Math.PI * a * b)).toBeLessThan(TOLERANCE * 4 * (a + b));
      expect(areaOf(outline)).toBeCloseTo(Math.PI * a * b, 9);
      expect(arcs.length).toBeLessThan(1500);
    },
  );

  it('is a circle where its axes are equal', () => {
    for (const { centre, radius } of arcsOf(ellipse(12, 12, 0.7, [5, 6]))) {
      expect(distance2(centre, [5, 6])).toBeLessThan(1e-12);
      expect(radius).toBeCloseTo(6, 12);
    }
  });

  it('closes as a polyline with bulges, as drawings have it', () => {
    const vertices = polylineOf(boundaryOf(ellipse(20, 10))[0]!);
    expect(vertices.every(({ bulge }) => bulge > 0 && bulge < 0.2)).toBe(true);
  });
});

describe('an ellipse as an outline', () => {
  it('holds the points of the disc that it is the image of', () => {
    fc.assert(
      fc.property(arbitraryEllipse, arbitraryNumber(0, 2), arbitraryNumber(0, 7), (outline, part, t) => {
        fc.pre(Math.abs(part - 1) > 1e-3);
        const [x, y] = edgeByParameter(outline).at(0, t / (2 * Math.PI));
        const [cx, cy] = outline.centre;
        expect(contains(outline, [cx + part * (x - cx), cy + part * (y - cy)])).toBe(part < 1);
      }),
    );
  });

  it('says its distance, its reach along any direction and its least width', () => {
    fc.assert(
      fc.property(arbitraryEllipse, arbitraryPlace(60), arbitraryNumber(0, 7), (outline, point, heading) => {
        expect(Math.abs(distanceToEdge(outline, point) - trueDistance(outline, point))).toBeLessThan(
          TOLERANCE,
        );
        const along: Vec2 = [Math.cos(heading), Math.sin(heading)];
        const { min, max } = extentAlong(outline, outline.centre, along);
        const turned = heading - outline.rotation;
        // Of a support function: √(a² cos² + b² sin²).
        const reach = Math.hypot(
          (outline.width / 2) * Math.cos(turned),
          (outline.height / 2) * Math.sin(turned),
        );
        expect(Math.abs(max - reach)).toBeLessThan(TOLERANCE);
        expect(Math.abs(min + reach)).toBeLessThan(TOLERANCE);
        expect(max - min).toBeGreaterThan(narrowestWidth(outline) - 2 * TOLERANCE);
      }),
      { numRuns: 60 },
    );
    expect(boundsOf(ellipse(20, 10))).toEqual({ minX: -10, maxX: 10, minY: -5, maxY: 5 });
    expect(narrowestWidth(ellipse(20, 10, 1))).toBe(10);
  });

  it('keeps apart from other outlines by the least distance of any two points of the edges', () => {
    fc.assert(
      fc.property(arbitraryEllipse, arbitraryOutline(60), (outline, other) => {
        const { gap, at } = gapBetween(outline, other);
        if (gap === 0) {
          for (const point of at) {
            expect(contains(outline, point) || distanceToEdge(outline, point) < TOLERANCE).toBe(true);
            expect(contains(other, point) || distanceToEdge(other, point) < TOLERANCE).toBe(true);
          }
          return;
        }
        const edge = edgeByParameter(outline);
        const least = -maximise((t) => -distanceToEdge(other, edge.at(0, t)), true, 256);
        expect(gap).toBeLessThan(least + TOLERANCE);
        expect(gap).toBeGreaterThan(least - TOLERANCE);
      }),
      { numRuns: 60 },
    );
  });

  it('holds another by the room between the edges, worked by hand', () => {
    const circle = (x: number, radius: number): Outline => ({ shape: 'circle', centre: [x, 0], radius });
    expect(insideMargin(ellipse(40, 20), circle(0, 3))).toBeCloseTo(7, 6);
    expect(insideMargin(circle(0, 30), ellipse(40, 20, 0.4))).toBeCloseTo(10, 6);
    expect(insideMargin(ellipse(40, 20), circle(18, 3))).toBeLessThan(-0.9);
    expect(gapBetween(ellipse(40, 20), circle(25, 3)).gap).toBeCloseTo(2, 6);
  });

  it('is sampled along its own axes, as many points as were asked for', () => {
    const outline = ellipse(40, 4, 0.5, [10, 0]);
    const { xs, ys } = interiorGrid(outline, spacingFor(outline, 400));
    expect(xs.length).toBeGreaterThan(380);
    expect(xs.length).toBeLessThan(420);
    xs.forEach((x, k) => {
      expect(contains(outline, [x, ys[k]!])).toBe(true);
    });
  });
});
