/**
 * Names on bench.svg can be read and belong to what they stand at: clear of the light and of the edges of solids, leaders seen as
 * such, letters large enough on a sheet of paper. mm on paper.
 */
import { describe, expect, test } from 'vitest';
import { BENCHES, drawnBench, EXAMPLES } from './benches.ts';
import { along, isIn, type LayeredPanel, layersOf, type Point } from './drawn-layers.ts';

const LIGHT = ['beam', 'beyond', 'cone', 'chief', 'nullRay'];
const SOLIDS = ['part', 'obstacle', 'glass', 'seat', 'reference', 'feature', 'mark', 'frame', 'tested'];

/** Names that a stroke of these layers runs through. */
const crossed = ({ names, strokes, heading }: LayeredPanel, layers: readonly string[]): readonly string[] =>
  strokes
    .filter(({ layer }) => layers.includes(layer))
    .flatMap(({ layer, id, points }) => {
      const dense = along(points, 0.3);
      return names
        .filter((name) => dense.some((point) => isIn(name, point)))
        .map(({ text }) => `${heading}: ${text} across ${layer} ${id}`);
    });

test('a name moved into a light path is found there', () => {
  const [panel] = layersOf(drawnBench('full-bench').svg);
  const { points } = panel!.strokes.find(({ layer }) => layer === 'chief')!;
  const [x, y] = points[1]!;
  const name = { text: 'moved', left: x - 1, right: x + 1, bottom: y - 1, top: y + 1 };
  expect(crossed({ ...panel!, names: [name] }, LIGHT).length).toBeGreaterThan(0);
});

describe.each(BENCHES.map(([name]) => name))('%s', (name) => {
  const panels = layersOf(drawnBench(name).svg);

  test('no name stands across a light path', () => {
    expect(panels.flatMap(({ names }) => names).length).toBeGreaterThan(5);
    expect(panels.flatMap((panel) => crossed(panel, LIGHT))).toEqual([]);
  });

  test('no name stands across the edge of a solid, a datum or an arrow', () => {
    expect(panels.flatMap((panel) => crossed(panel, SOLIDS))).toEqual([]);
  });

  test('no leader runs along a line, where it would not be seen', () => {
    expect(panels.flatMap(lost)).toEqual([]);
  });
});

/** Leaders nearer than 0.3 mm to one straight run over more than 3 mm: 2.3 mm where they cross at 15°. */
const NEAR = 0.3;
const MOST_LOST = 3;
const STEP = 0.1;

function lost({ leaders, strokes, heading }: LayeredPanel): readonly string[] {
  const runs = strokes.flatMap(({ layer, id, points }) =>
    points.slice(1).map((to, k) => ({ layer, id, from: points[k]!, to })),
  );
  return leaders.flatMap((leader) => {
    const points = along(leader, STEP);
    return runs
      .filter(({ from, to }) => mayMeet(leader as [Point, Point], [from, to]))
      .map((run) => ({
        ...run,
        length: STEP * points.filter((point) => toRun(point, run.from, run.to) < NEAR).length,
      }))
      .filter(({ length }) => length > MOST_LOST)
      .map(({ layer, id, length }) => `${heading}: ${leader} along ${layer} ${id} for ${length} mm`);
  });
}

/** Whether the upright boxes of two runs come near each other. */
const mayMeet = (a: readonly [Point, Point], b: readonly [Point, Point]): boolean =>
  ([0, 1] as const).every(
    (axis) =>
      Math.min(a[0][axis], a[1][axis]) - NEAR < Math.max(b[0][axis], b[1][axis]) &&
      Math.min(b[0][axis], b[1][axis]) - NEAR < Math.max(a[0][axis], a[1][axis]),
  );

function toRun([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const [dx, dy] = [bx - ax, by - ay];
  const share = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1);
  const t = Math.min(1, Math.max(0, share));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

/** A4 is 210 mm by 297 mm. The least height of capitals of ISO 3098-1 is 1.8 mm (from memory). */
test.each(EXAMPLES)('%s, printed to fill a sheet of A4, has capitals of 1.8 mm or more', (name) => {
  const { svg } = drawnBench(name);
  const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!.map(Number) as [
    number,
    number,
    number,
  ];
  const reduced = Math.min(1, 210 / width, 297 / height);
  const sizes = [...svg.matchAll(/font-size="([\d.]+)"/g)].map(([, size]) => 0.72 * Number(size));
  expect(sizes.length).toBeGreaterThan(20);
  expect(reduced * Math.min(...sizes)).toBeGreaterThanOrEqual(1.8);
});
