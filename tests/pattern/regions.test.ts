/** The steps of the proof that no fringe is missed, each against a brute-force view of the same phase. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { covers } from '../../src/geometry/contains.ts';
import { boundsOf } from '../../src/geometry/extent.ts';
import { nearestOn } from '../../src/geometry/piece.ts';
import { distance2, type Vec2 } from '../../src/geometry/vector.ts';
import { spot } from '../../src/pattern/edge-piece.ts';
import { crossingOf } from '../../src/pattern/monotone-runs.ts';
import { phasedOutlineOf, regionsOf } from '../../src/pattern/regions.ts';
import { Probe } from '../../src/pattern/smooth-phase.ts';

import { arbitraryNumber, arbitraryOutline } from '../geometry/arbitrary-outline.ts';
import { CASES } from './pattern-cases.ts';
import { QuadraticPhase, rectangle, samplePatch } from './sample-patches.ts';

describe.each(CASES)('$name', ({ given }) => {
  const patch = samplePatch(given);
  const regions = regionsOf(phasedOutlineOf(patch));

  test('Φ is monotone along every run, and a level between its ends is found on it', () => {
    for (const { runs, phase } of regions) {
      const probe = new Probe(phase);
      for (const run of runs) {
        const sign = Math.sign(run.end - run.start);
        const range = Math.abs(run.end - run.start);
        let before = run.start;
        for (let k = 1; k <= 200; k++) {
          run.edge.place(run.from + (k / 200) * (run.to - run.from));
          const value = probe.at(spot.x, spot.y);
          expect(sign * (value - before)).toBeGreaterThan(-1e-7);
          before = value;
        }
        if (range < 1e-6) continue;
        const level = run.start + 0.37 * (run.end - run.start);
        run.edge.place(crossingOf(run, level, probe));
        expect(Math.abs(probe.at(spot.x, spot.y) - level)).toBeLessThan(1e-8 * Math.max(1, range));
      }
    }
  });
});

/** Patterns whose phase stands still somewhere inside them: at a point, or all along a line. */
const STANDS_STILL = new Set([
  'zone plate: closed rings',
  'zone plate off its centre, duty 0.7',
  'line of stationary points',
  'saddle',
  'saddle in a circle, its own level a fringe edge',
]);

// A roof's phase goes on beyond the ridge on either side, where it belongs to no region: what is found there says nothing.
test.each(CASES.filter(({ given }) => given.bias?.shape !== 'roof'))(
  '$name: where the phase stands still, there is an edge of a region',
  ({ name, given }) => {
    const patch = samplePatch(given);
    const regions = regionsOf(phasedOutlineOf(patch));
    const pieces = regions.flatMap(({ runs }) => runs.map(({ edge }) => edge.piece));
    const probe = new Probe(regions[0]!.phase);
    const found = gridWithin(patch.outline, 9)
      .map((start) => stationaryFrom(probe, start))
      .filter((point) => point !== undefined && covers(patch.outline, point)) as Vec2[];
    expect(found.length > 0).toBe(STANDS_STILL.has(name));
    const inside = found.filter((point) =>
      pieces.every((piece) => distance2(nearestOn(piece, point), point) > 1e-6),
    );
    expect(inside).toEqual([]);
  },
);

const quadratic = fc
  .record({
    at: fc.tuple(arbitraryNumber(-3, 3), arbitraryNumber(-3, 3)),
    xx: arbitraryNumber(-5, 5),
    xy: arbitraryNumber(-5, 5),
    yy: arbitraryNumber(-5, 5),
  })
  .filter(({ xx, xy, yy }) => Math.abs(4 * xx * yy - xy * xy) > 0.5);

test('the one stationary point of a quadratic phase, wherever it lies, ends up on the edge of the regions', () => {
  let judged = 0;
  fc.assert(
    fc.property(quadratic, arbitraryOutline(3), ({ at, xx, xy, yy }, outline) => {
      const phase = new QuadraticPhase(at, { xx, xy, yy });
      const regions = regionsOf({ outline, phase });
      if (!covers(outline, at)) return;
      const pieces = regions.flatMap(({ runs }) => runs.map(({ edge }) => edge.piece));
      expect(Math.min(...pieces.map((piece) => distance2(nearestOn(piece, at), at)))).toBeLessThan(1e-6);
      judged++;
    }),
    { numRuns: 150 },
  );
  expect(judged).toBeGreaterThan(20);
});

test('the bound of the second derivatives holds for every wave, against difference quotients', () => {
  const height = fc.oneof(arbitraryNumber(60, 900), arbitraryNumber(-900, -60));
  fc.assert(
    fc.property(
      height,
      arbitraryNumber(80, 900),
      fc.constantFrom('before', 'after', 'none'),
      fc.option(arbitraryNumber(-2, 2), { nil: undefined }),
      fc.tuple(arbitraryNumber(-1, 1), arbitraryNumber(-1, 1), arbitraryNumber(0, 3.2)),
      (beam, z, glass, lineAngle, [u, v, heading]) => {
        const outline = rectangle([30, -20], 12);
        const patch = samplePatch({
          outline,
          centre: [30, -20],
          target: [80, 40, z],
          beam,
          glass: glass as 'before' | 'after' | 'none',
          ...(lineAngle === undefined ? {} : { lineAngle }),
        });
        const at: Vec2 = [30 + 6 * u, -20 + 6 * v];
        const [c, s] = [Math.cos(heading), Math.sin(heading)];
        const step = 1e-3;
        const along = (run: number): number => {
          const [gx, gy] = patch.phase.gradient(at[0] + run * c, at[1] + run * s);
          return gx * c + gy * s;
        };
        const second = (along(step) - along(-step)) / (2 * step);
        expect(Math.abs(second)).toBeLessThanOrEqual(
          patch.phase.curvatureBound(boundsOf(outline)) * (1 + 1e-6),
        );
      },
    ),
    { numRuns: 300 },
  );
});

test('phase and gradient together are those taken one by one', () => {
  for (const { given } of CASES) {
    const patch = samplePatch(given);
    const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
    const xs = Float64Array.from({ length: 50 }, (_, k) => minX + ((k * 7919) % 50) * ((maxX - minX) / 50));
    const ys = Float64Array.from({ length: 50 }, (_, k) => minY + ((k * 104729) % 50) * ((maxY - minY) / 50));
    const [phase, gx, gy] = [0, 0, 0].map(() => new Float64Array(50)) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    patch.phase.evaluate(xs, ys, phase, gx, gy, 50);
    const apart = patch.phase.gradients(xs, ys);
    patch.phase.phases(xs, ys).forEach((value, k) => {
      expect(phase[k]).toBeCloseTo(value, 7);
      expect(gx[k]).toBeCloseTo(apart.gx[k]!, 8);
      expect(gy[k]).toBeCloseTo(apart.gy[k]!, 8);
    });
  }
});

function gridWithin(outline: (typeof CASES)[number]['given']['outline'], steps: number): Vec2[] {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const points: Vec2[] = [];
  for (let i = 0; i < steps; i++)
    for (let j = 0; j < steps; j++) {
      const point: Vec2 = [
        minX + ((i + 0.5) / steps) * (maxX - minX),
        minY + ((j + 0.5) / steps) * (maxY - minY),
      ];
      if (covers(outline, point)) points.push(point);
    }
  return points;
}

/**
 * Newton's method on ∇Φ = 0 with difference quotients, along the bends only that Φ has (where it is straight one way, a line stands
 * still); undefined where it finds nothing.
 */
function stationaryFrom(probe: Probe, start: Vec2): Vec2 | undefined {
  let [x, y] = start;
  const h = 1e-4;
  const gradient = (x: number, y: number): Vec2 => {
    probe.at(x, y);
    return [probe.gx, probe.gy];
  };
  for (let k = 0; k < 40; k++) {
    const [gx, gy] = gradient(x, y);
    const [right, left, up, down] = [
      gradient(x + h, y),
      gradient(x - h, y),
      gradient(x, y + h),
      gradient(x, y - h),
    ];
    const [xx, xy, yy] = [
      (right[0] - left[0]) / (2 * h),
      (right[1] - left[1]) / (2 * h),
      (up[1] - down[1]) / (2 * h),
    ];
    const turn = Math.atan2(2 * xy, xx - yy) / 2;
    const axes = [turn, turn + Math.PI / 2].map((angle) => {
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      return { c, s, bend: xx * c * c + 2 * xy * c * s + yy * s * s };
    });
    const most = Math.max(...axes.map(({ bend }) => Math.abs(bend)));
    let moved = 0;
    for (const { c, s, bend } of axes) {
      if (Math.abs(bend) < 1e-4 * most) continue;
      const step = (gx * c + gy * s) / bend;
      x -= step * c;
      y -= step * s;
      moved = Math.max(moved, Math.abs(step));
    }
    if (moved < 1e-9) return [x, y];
  }
  return undefined;
}
