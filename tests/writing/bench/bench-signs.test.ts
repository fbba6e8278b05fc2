/**
 * What the signs on bench.svg say: datums only as far as they are known, the part's frame told from a datum's normal, a whole part in a
 * detail, light from every patch, a legend of what is drawn. Expected places worked out here; mm of the bench unless it says paper.
 */
import { describe, expect, test } from 'vitest';
import { benchDrawing } from '../../../src/writing/bench/bench-svg.ts';
import { designOf } from '../sheet/made-sheets.ts';
import { BENCHES, drawnBench, EXAMPLES, FAR, TILTED } from './benches.ts';
import {
  along,
  isIn,
  type LayeredPanel,
  layersOf,
  legendOf,
  type Point,
  type Stroke,
} from './drawn-layers.ts';

const panelsOf = (name: string): readonly LayeredPanel[] => layersOf(drawnBench(name).svg);
const ofLayer = ({ strokes }: LayeredPanel, layer: string, id?: string): readonly Stroke[] =>
  strokes.filter((stroke) => stroke.layer === layer && (id === undefined || stroke.id === id));
const onBench = ({ scale }: LayeredPanel, points: readonly Point[]): readonly Point[] =>
  points.map(([z, up]) => [z * scale, up * scale]);

/** Which layers a line of the legend stands for. */
const MEANINGS: Readonly<Record<string, string>> = {
  'part (envelope)': 'part',
  obstacle: 'obstacle',
  hologram: 'glass',
  'seat on the glass': 'seat',
  'edge of the beam': 'beam',
  'beam without the hologram, to its focus': 'beyond',
  'light from the middle of a patch': 'chief',
  'all light of a patch': 'cone',
  patch: 'pattern',
  'main pattern': 'mainPattern',
  'edge of the main pattern’s light, out and back': 'nullRay',
  'surface under test, over its aperture': 'tested',
  'datum; arrow: out of the material': 'feature',
  ball: 'ballSign',
  'retroreflector, open toward its patches': 'cubeSign',
  screen: 'screenSign',
  'origin and axes of the part': 'frame',
};

test.each(BENCHES.map(([name]) => name))('%s: the legend has all that is seen, and nothing else', (name) => {
  const { svg } = drawnBench(name);
  const panels = layersOf(svg);
  const seen = Object.entries(MEANINGS).flatMap(([words, layer]) => {
    const isSeen = panels.some((panel) =>
      ofLayer(panel, layer).some(({ points }) => along(points, 0.3).some((point) => isIn(panel.seen, point))),
    );
    return isSeen ? [words] : [];
  });
  expect(seen.length).toBeGreaterThan(4);
  expect([...legendOf(svg)].sort()).toEqual(seen.sort());
});

test('the legend of a bench without part, seat and screen has none of them', () => {
  expect(legendOf(drawnBench('broken-rules').svg).join()).not.toMatch(/part|seat|screen|datum/);
});

describe('a datum without extent', () => {
  test('a sphere is a short arc of the side that faces the hologram, not a circle', () => {
    // Centre 300 + 348 mm, radius 350 mm.
    for (const panel of panelsOf('full-bench').slice(0, 2)) {
      const [arc, ...more] = ofLayer(panel, 'feature', 'land');
      expect(more).toEqual([]);
      const points = onBench(panel, arc!.points);
      for (const [z, up] of points) expect(Math.hypot(z - 648, up)).toBeCloseTo(350, 2);
      const height = Math.max(...points.map(([, up]) => up)) - Math.min(...points.map(([, up]) => up));
      expect(height / panel.scale).toBeLessThan(15);
      expect(Math.min(...points.map(([z]) => z))).toBeCloseTo(298, 1);
    }
  });

  test('a small ball is half a circle at most', () => {
    const text = TILTED.replace(
      'datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, -1]}}}',
      'datums: {A: {sphere: {centre: [0, 0, 0], diameter: 20}}}',
    );
    const [panel] = layersOf(benchDrawing(designOf(text), { draft: false }).svg);
    const points = onBench(panel!, ofLayer(panel!, 'feature', 'A')[0]!.points);
    for (const [z, up] of points) expect(Math.hypot(z - 400, up + 25)).toBeCloseTo(10, 2);
    // None of it lies beyond the centre, seen from the pattern's origin.
    for (const [z, up] of points) expect((z - 400) * 400 + (up + 25) * -25).toBeLessThan(0.1);
  });

  test('a plane is a line of 14 mm on paper; with an extent it is as large as that', () => {
    const lengthIn = (text: string): number => {
      const panel = layersOf(benchDrawing(designOf(text), { draft: false }).svg)[0]!;
      const { points } = ofLayer(panel, 'feature', 'A')[0]!;
      const ends = [...points].sort((a, b) => a[1] - b[1]);
      return Math.hypot(ends.at(-1)![0] - ends[0]![0], ends.at(-1)![1] - ends[0]![1]) * panel.scale;
    };
    const straight = TILTED.replace('rotation: [10 deg, 20 deg, 30 deg]', 'rotation: [0, 0, 0]');
    expect(lengthIn(straight)).toBeCloseTo(14 * 8, 2);
    const bounded = straight.replace(
      'normal: [0, 0, -1]',
      'normal: [0, 0, -1], extent: {circle: {diameter: 90}}',
    );
    expect(bounded).not.toBe(straight);
    expect(lengthIn(bounded)).toBeCloseTo(90, 2);
  });
});

describe('the part’s frame', () => {
  test.each(['full-bench', 'converging-retroreflectors'])('%s: no normal begins at its origin', (name) => {
    for (const panel of panelsOf(name).filter((each) => ofLayer(each, 'frame').length > 0)) {
      const { points } = ofLayer(panel, 'frame', 'part origin')[0]!;
      const middle: Point = [mean(points.map(([x]) => x)), mean(points.map(([, y]) => y))];
      const flats = { 'full-bench': 'face', 'converging-retroreflectors': 'A' }[name]!;
      expect(ofLayer(panel, 'feature', flats)).toHaveLength(1);
      const starts = ofLayer(panel, 'mark').map(({ points: own }) => own[0]!);
      const along = starts.filter(([z]) => Math.abs(z - middle[0]) < 0.1);
      expect(along.length).toBeGreaterThan(0);
      for (const [, up] of along) expect(Math.abs(up - middle[1])).toBeGreaterThan(3);
    }
  });

  test('each axis points where a vector turned about x, y, z points, with its letter there', () => {
    const [a, b, c] = [10, 20, 30].map((angle) => (angle * Math.PI) / 180) as [number, number, number];
    // Columns of Rx(a) Ry(b) Rz(c).
    const [sa, ca, sb, cb, sc, cc] = [a, b, c].flatMap((each) => [Math.sin(each), Math.cos(each)]) as number[] as [number, number, number, number, number, number]; // biome-ignore format: one line
    const axes = {
      x: [cb * cc, ca * sc + sa * sb * cc, sa * sc - ca * sb * cc],
      y: [-cb * sc, ca * cc - sa * sb * sc, sa * cc + ca * sb * sc],
      z: [sb, -sa * cb, ca * cb],
    } as const;
    for (const panel of panelsOf('a tilted part').slice(0, 2)) {
      const isSide = panel.view === 'side';
      const origin: Point = [400 / panel.scale, (isSide ? -25 : 15) / panel.scale];
      for (const [letter, [x, y, z]] of Object.entries(axes)) {
        const tip: Point = [origin[0] + 7 * z, origin[1] + 7 * (isSide ? y : x)];
        const lines = ofLayer(panel, 'frame').filter(({ points }) => points.length === 2);
        const ends = lines.map(({ points }) => Math.hypot(points[1]![0] - tip[0], points[1]![1] - tip[1]));
        expect(Math.min(...ends)).toBeLessThan(1e-3);
        expect(panel.names.filter(({ text }) => text === letter)).toHaveLength(1);
      }
    }
  });
});

test('the detail of the retroreflectors shows all of the part', () => {
  const details = panelsOf('converging-retroreflectors').filter(({ heading }) => heading.startsWith('B'));
  expect(details).toHaveLength(2);
  for (const panel of details) {
    expect(ofLayer(panel, 'part').length).toBe(2);
    for (const { points } of ofLayer(panel, 'part')) {
      for (const point of points) expect(isIn(panel.seen, point)).toBe(true);
    }
  }
});

/** Without an envelope, with its origin just within the right edge of the references' detail. */
const AT_THE_EDGE = FAR.replace(/\n {2}envelope: .*/, '')
  .replace('origin: [15, -25, 10000]', 'origin: [15, -25, 10140]')
  .replace('rotation: [10 deg, 20 deg, 30 deg]', 'rotation: [0, 0, 0]')
  .replace('at: [70, 10, -20]', 'at: [70, 10, -160]');

test('arrows of datums and axes that begin in a panel are seen whole', () => {
  const panels = [
    ...EXAMPLES.flatMap(panelsOf),
    ...layersOf(benchDrawing(designOf(AT_THE_EDGE), { draft: false }).svg),
  ];
  const arrows = panels.flatMap((panel) =>
    ['frame', 'mark']
      .flatMap((layer) => ofLayer(panel, layer))
      .filter(({ points }) => points.length === 2 && isIn(panel.seen, points[0]!))
      .map(({ points }) => ({ heading: panel.heading, isWhole: isIn(panel.seen, points[1]!) })),
  );
  expect(arrows.length).toBeGreaterThan(20);
  expect(arrows.filter(({ isWhole }) => !isWhole)).toEqual([]);
  expect(arrows.filter(({ heading }) => /^B: side/.test(heading)).length).toBeGreaterThan(2);
});

describe('light', () => {
  test.each(EXAMPLES)(
    '%s: every patch has its middle ray in every panel of the hologram, with a direction',
    (name) => {
      const { design } = drawnBench(name);
      for (const panel of panelsOf(name).filter(({ heading }) => !heading.startsWith('B'))) {
        for (const { id } of design.patches) {
          const rays = ofLayer(panel, 'chief', id);
          expect(rays.length).toBeGreaterThan(0);
          expect(rays.some(({ points }) => along(points, 0.3).some((each) => isIn(panel.seen, each)))).toBe(
            true,
          );
        }
        const heads = ofLayer(panel, 'lightArrow').filter(({ points }) => isIn(panel.seen, points[0]!));
        expect(heads.length).toBeGreaterThan(0);
      }
    },
  );

  test('a ring’s and a sector’s middle rays leave halfway between their edges', () => {
    for (const panel of panelsOf('infrared-collimated')) {
      const starts = (id: string): number[] =>
        ofLayer(panel, 'chief', id).map(({ points }) => points[0]![1] * panel.scale);
      // Diameters 44 and 60; a sector of diameters 66 and 100 about +y.
      const [low, high] = starts('axis-ring').sort((a, b) => a - b);
      expect(low).toBeCloseTo(-26, 2);
      expect(high).toBeCloseTo(26, 2);
      expect(starts('upper-sector')).toHaveLength(1);
      expect(starts('upper-sector')[0]).toBeCloseTo(panel.view === 'side' ? 41.5 : 0, 2);
    }
  });
});

test.each(EXAMPLES)('%s: the heading of every panel says its side and its scale', (name) => {
  for (const { heading, view, scale } of panelsOf(name)) {
    expect(heading).toMatch(
      view === 'side' ? /side view,?( seen)? from −x/i : /plan view,?( seen)? from \+y/i,
    );
    expect(heading).toContain(`scale 1:${scale}`);
  }
});

const mean = (values: readonly number[]): number =>
  values.reduce((sum, each) => sum + each, 0) / values.length;
