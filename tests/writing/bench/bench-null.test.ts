/**
 * The null test on bench.svg against a paraboloid by hand: z = −(x² + y²)/1600, its normals followed back by code of their own, its profile.
 * mm, substrate frame; the side view has (z, y), the plan view (z, x).
 */
import { describe, expect, it } from 'vitest';
import { benchDrawing } from '../../../src/writing/bench/bench-svg.ts';
import { followedBack, isoAsphere } from '../../independent/surface-sheets.ts';
import { designOf, exampleText } from '../sheet/made-sheets.ts';
import { layersOf, legendOf } from './drawn-layers.ts';

const ORIGIN = [18, 0, 1040] as const;
const [MIDDLE, RADIUS] = [60, 50];
const svg = benchDrawing(designOf(exampleText('off-axis-asphere')), { draft: false }).svg;
/** Strokes in mm of the bench. */
const panels = layersOf(svg)
  .slice(0, 2)
  .map(({ view, scale, strokes }) => ({
    ...{ view, scale },
    paths: strokes.map(({ layer, id, points }) => {
      return { layer, id, points: points.map(([right, above]) => [right * scale, above * scale] as const) };
    }),
  }));
const height = isoAsphere(-800, -1);
const sheet = {
  height,
  toSubstrate: ([x, y, z]: readonly [number, number, number]) =>
    [x + ORIGIN[0], y + ORIGIN[1], z + ORIGIN[2]] as const,
};
/** The glass of the example: fused silica at 632.8 nm, by Malitson 1.457. */
const GLASS = { thickness: 6.35, index: 1.457 };

describe.each(panels.map((panel) => [panel.view, panel] as const))(
  'the %s view',
  (view, { paths, scale }) => {
    const up = view === 'side' ? 1 : 0;
    const rounding = 2e-4 * scale;

    it('has the profile of the surface under test, edge to edge of its aperture', () => {
      const profile = paths.find(({ id, layer }) => id === 'M' && layer === 'tested')!.points;
      for (const [z, across] of profile) {
        const [x, y] = up === 1 ? [MIDDLE, across] : [across - ORIGIN[0], 0];
        expect(Math.abs(z - ORIGIN[2] - height(x, y))).toBeLessThan(rounding);
      }
      const reach = profile.map(([, across]) => across - (up === 1 ? 0 : MIDDLE + ORIGIN[0]));
      expect([Math.min(...reach), Math.max(...reach)]).toEqual(
        [-1, 1].map((side) => expect.closeTo(side * RADIUS, 2)),
      );
    });

    it('has light along the normals of the aperture’s edge, from the pattern through the glass', () => {
      const rays = paths.filter(({ layer }) => layer === 'nullRay');
      expect(rays).toHaveLength(2);
      for (const { points } of rays) {
        const [start, , end] = points as [number, number][];
        // The outermost of all on the pattern, in this view.
        const edge = Array.from({ length: 720 }, (_, k) => {
          const angle = (k * Math.PI) / 360;
          const [x, y] = [MIDDLE + RADIUS * Math.cos(angle), RADIUS * Math.sin(angle)];
          const { on, at } = followedBack(sheet, x, y, GLASS);
          return { on: on[up]!, at: [at[2], at[up]!] as const };
        });
        const side = Math.sign(start![1] - (up === 1 ? 0 : edge.reduce((sum, { on }) => sum + on, 0) / 720));
        const outermost = edge.reduce((best, one) => (side * one.on > side * best.on ? one : best));
        expect(Math.abs(start![1] - outermost.on)).toBeLessThan(0.1);
        expect(start![0]).toBeCloseTo(0, 6);
        expect(Math.hypot(end![0] - outermost.at[0], end![1] - outermost.at[1])).toBeLessThan(3);
      }
    });
  },
);

it('has arrows both ways on that light, and says in the legend what it is', () => {
  const arrows = panels[0]!.paths.filter(({ layer }) => layer === 'nullArrow');
  const ways = arrows.map(({ points: [tip, left, right] }) =>
    Math.sign(tip![0] - (left![0] + right![0]) / 2),
  );
  expect(ways.toSorted()).toEqual([-1, -1, 1, 1]);
  expect(legendOf(svg)).toEqual(
    expect.arrayContaining([
      'main pattern',
      'surface under test, over its aperture',
      'edge of the main pattern’s light, out and back',
    ]),
  );
});
