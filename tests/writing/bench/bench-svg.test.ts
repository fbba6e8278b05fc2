/**
 * bench.svg read back from its text: what it shows stands where the scenario has it, worked out here by hand (rotations, Snell's law,
 * corners of solids by sampling). mm, substrate frame; the side view has (z, y), the plan view (z, x).
 */
import { describe, expect, test } from 'vitest';
import { benchDrawing } from '../../../src/writing/bench/bench-svg.ts';
import { designOf, exampleText, HOSTILE } from '../sheet/made-sheets.ts';
import { BENCHES, bench, drawnBench, EXAMPLES, FAR, TILTED } from './benches.ts';
import { type DrawnPanel, overlaps, panelsOf, textsOf } from './drawn-bench.ts';

type Point = readonly [number, number, number];
const DEG = Math.PI / 180;

const drawn = (text: string): readonly DrawnPanel[] =>
  panelsOf(benchDrawing(designOf(text), { draft: false }).svg);

/** Intrinsic x-y-z: the vector is turned about z, then y, then x. */
function turned([x, y, z]: Point, [a, b, c]: Point): Point {
  const [x1, y1] = [x * Math.cos(c) - y * Math.sin(c), x * Math.sin(c) + y * Math.cos(c)];
  const [x2, z2] = [x1 * Math.cos(b) + z * Math.sin(b), -x1 * Math.sin(b) + z * Math.cos(b)];
  return [x2, y1 * Math.cos(a) - z2 * Math.sin(a), y1 * Math.sin(a) + z2 * Math.cos(a)];
}
const ANGLES: Point = [10 * DEG, 20 * DEG, 30 * DEG];
const inBench = (place: Point): Point => {
  const [x, y, z] = turned(place, ANGLES);
  return [15 + x, -25 + y, 400 + z];
};
const seen = ([x, y, z]: Point, view: string): readonly [number, number] => [z, view === 'side' ? y : x];

/** Four decimals of a mm on paper. */
const rounding = ({ scale }: DrawnPanel): number => 1e-4 * scale;
const near = (a: readonly number[], b: readonly number[], within: number): void => {
  for (const [k, value] of a.entries()) expect(Math.abs(value - b[k]!)).toBeLessThanOrEqual(within);
};

describe('a tilted part in a diverging beam', () => {
  const panels = drawn(TILTED);

  test('there is a side view and a plan view, each at one scale with its detail views', () => {
    expect(panels.slice(0, 2).map(({ view }) => view)).toEqual(['side', 'plan']);
    expect(panels[0]!.scale).toBe(panels[1]!.scale);
  });

  test.each([
    ['ball', [40, 55, 180], 6.35],
    ['cube', inBench([70, 10, -20]), 12.7],
    ['knob', [50, 10, 6], 4],
  ] as const)('%s stands at its place with its radius in every panel', (id, at, radius) => {
    for (const panel of panels) {
      const circle = panel.circles.find((one) => one.id === id)!;
      near(circle.at, seen(at, panel.view), rounding(panel));
      near([circle.radius], [radius], rounding(panel));
    }
  });

  test('the envelope reaches as far as points sampled on its rims', () => {
    const rims = [0, 30].flatMap((z) =>
      Array.from({ length: 3600 }, (_, k) => {
        const angle = (k / 10) * DEG;
        return inBench([80 * Math.cos(angle), 80 * Math.sin(angle), z]);
      }),
    );
    for (const panel of panels) {
      const { points } = panel.paths.find(({ id }) => id === 'envelope 1')!;
      const expected = rims.map((place) => seen(place, panel.view));
      for (const axis of [0, 1] as const) {
        const [is, should] = [points, expected].map((all) => all.map((point) => point[axis]));
        near(
          [Math.min(...is!), Math.max(...is!)],
          [Math.min(...should!), Math.max(...should!)],
          rounding(panel) + 1e-3, // the sampling
        );
      }
    }
  });

  test('the obstacle and the glass have the corners that the scenario gives them', () => {
    const [side, plan] = panels as [DrawnPanel, DrawnPanel];
    const boxOf = (panel: DrawnPanel, id: string): number[] => {
      const { points } = panel.paths.find((path) => path.id === id)!;
      const [zs, us] = [points.map(([z]) => z), points.map(([, u]) => u)];
      return [Math.min(...zs), Math.max(...zs), Math.min(...us), Math.max(...us)];
    };
    near(boxOf(side, 'obstacle clamp'), [250, 290, -80, -60], rounding(side));
    near(boxOf(plan, 'obstacle clamp'), [250, 290, 60, 90], rounding(plan));
    near(boxOf(side, 'hologram'), [-10, 0, -60, 60], rounding(side));
  });

  test('middle rays run from the patch toward its reference and end on its sphere', () => {
    for (const panel of panels.slice(0, 2)) {
      const chief = panel.paths
        .filter(({ id }) => id === 'p')
        .find((path) => path.points.length === 2 && path.points[1]![0] > 100);
      const [from, to] = chief!.points as [readonly [number, number], readonly [number, number]];
      near(from, seen([20, 30, 0], panel.view), rounding(panel));
      const way = Math.hypot(20, 25, 180);
      const end: Point = [20 + 20 * (1 - 6.35 / way), 30 + 25 * (1 - 6.35 / way), 180 * (1 - 6.35 / way)];
      near(to, seen(end, panel.view), rounding(panel));
    }
  });

  test('the edge of the beam leaves the focus and meets the pattern where Snell’s law takes it', () => {
    const sine = Math.sin(Math.atan(1 / 12));
    const radius = 590 / 12 + 10 * Math.tan(Math.asin(sine / 1.5));
    for (const panel of panels.slice(0, 2)) {
      const edges = panel.paths.filter(
        ({ points }) => points.length === 3 && Math.abs(points[0]![0] + 600) < 0.1,
      );
      const ends = edges.map(({ points }) => points.at(-1)!);
      near(
        ends
          .map(([, u]) => u)
          .sort((a, b) => a - b)
          .slice(-1),
        [radius],
        rounding(panel),
      );
      near(panel.circles.find(({ id }) => id === 'focus')!.at, [-600, 0], rounding(panel));
    }
  });
});

test('a flipped sign of the focus puts it on the other side, with the light that would go there', () => {
  const [side] = drawn(bench('focus: [0, 0, 600], fNumber: 6'));
  near(side!.circles.find(({ id }) => id === 'focus')!.at, [600, 0], rounding(side!));
  const beyond = side!.paths.filter(
    ({ points }) => points.length === 2 && Math.abs(points[0]![0] + 10) < 0.1,
  );
  expect(beyond).toHaveLength(2);
  // The incoming ray, its way to the focus and the first face lie on one line: without the substrate it would go straight on.
  for (const { points } of beyond) near(points[1]!, [600, 0], rounding(side!));
  for (const { points } of beyond)
    near(points[0]!, [-10, (Math.sign(points[0]![1]) * 610) / 12], rounding(side!));
});

test('a collimated beam comes in parallel, and no focus is drawn', () => {
  const [side] = drawn(bench('collimated: true, beamDiameter: 90'));
  expect(side!.circles.some(({ id }) => id === 'focus')).toBe(false);
  const level = side!.paths.filter(
    ({ id, points }) =>
      id === '' && points.length === 3 && points.every(([, u]) => Math.abs(Math.abs(u) - 45) < 0.01),
  );
  expect(level).toHaveLength(2);
});

test('a focus that is off the drawing is said to be, with its place and its side', () => {
  const svg = benchDrawing(designOf(bench('focus: [0, 0, -90000], fNumber: 900')), { draft: false }).svg;
  expect(svg.replace(/<\/text>\s*<text[^>]*>/g, ' ')).toContain(
    'Its focus, (0, 0, −90000), is off the drawing, to the left.',
  );
});

test('a patch a kilometre off the hologram takes no more memory than any other', () => {
  // Its light crosses the drawing, and goes on for a kilometre beyond it, ten metres deep.
  const text = FAR.replace(/centre: \[20, 30\]/, 'centre: [1 km, 19]');
  expect(text).toContain('1 km');
  expect(panelsOf(benchDrawing(designOf(text), { draft: true }).svg).length).toBeGreaterThan(0);
});

test.each(BENCHES)('%s: no text covers another or leaves the page', (name) => {
  const { svg } = drawnBench(name);
  const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!;
  const texts = textsOf(svg);
  expect(texts.length).toBeGreaterThan(20);
  expect(overlaps(texts)).toEqual([]);
  expect(overlaps([...texts, texts[0]!])).toHaveLength(1);
  const outside = texts.filter(
    ({ left, right, top, bottom }) => left < 0 || top < 0 || right > Number(width) || bottom > Number(height),
  );
  expect(outside).toEqual([]);
});

test.each(EXAMPLES)('%s says the view sides, the axes, and has a bar to scale for every panel', (name) => {
  const { svg } = drawnBench(name);
  for (const words of ['SIDE VIEW, seen from −x', 'PLAN VIEW, seen from +y', 'z, mm', 'y, mm', 'x, mm'])
    expect(svg).toContain(words);
  const bars = [...svg.matchAll(/data-bar="([\d.]+)" d="M ([\d.]+) [\d.]+ V [\d.]+ H ([\d.]+)/g)];
  const panels = panelsOf(svg);
  expect(bars).toHaveLength(panels.length);
  bars.forEach(([, length, from, to], k) => {
    near([(Number(to) - Number(from)) * panels[k]!.scale], [Number(length)], 2 * rounding(panels[k]!));
  });
});

test('hostile titles stay text, the same design gives the same bytes, a draft says so', () => {
  const design = designOf(exampleText('full-bench'));
  const hostile = { ...design, scenario: { ...design.scenario, title: HOSTILE } };
  const svg = benchDrawing(hostile, { draft: true }).svg;
  expect(svg).not.toMatch(/<script|<img|\u202e/);
  expect(svg).toContain('&lt;script&gt;');
  expect(svg).toContain('NOT FOR FABRICATION');
  expect(benchDrawing(hostile, { draft: true }).svg).toBe(svg);
  expect(benchDrawing(design, { draft: false }).svg).not.toContain('NOT FOR FABRICATION');
});
