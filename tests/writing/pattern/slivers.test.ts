/**
 * Slivers: written areas nowhere as wide as the least feature. Widths of triangles, strips and rings by closed forms; of a patch's zones
 * by a second way, the highest place of the distance field on a fine grid of points. Counted by patch, kept or left out as asked. mm.
 */
import { describe, expect, it, test } from 'vitest';
import { isSliver } from '../../../src/writing/pattern/sliver.ts';
import { readGds } from '../../independent/gdsii.ts';
import { rectangle, samplePatch } from '../../pattern/sample-patches.ts';
import { patternDesign, written } from './pattern-design.ts';

type Corner = readonly [number, number];
const flat = (corners: readonly Corner[]): Float64Array => Float64Array.from(corners.flat());

/** Of a right triangle the circle inside has the diameter a + b - c. */
const TRIANGLE: readonly Corner[] = [
  [0, 0],
  [4000, 0],
  [0, 3000],
];
const STRIP: readonly Corner[] = [
  [0, 0],
  [90_000, 30_000],
  [90_000 - 316.23, 30_000 + 948.68],
  [-316.23, 948.68],
];
/** A bow of a ring: radius 20 000 to 20 000 + 800, over a quarter of a turn and 60 sides. */
const BOW: readonly Corner[] = [20_800, 20_000].flatMap((radius, k) =>
  Array.from({ length: 61 }, (_, i): Corner => {
    const angle = ((k === 0 ? i : 60 - i) / 60) * (Math.PI / 2);
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  }),
);
/** Thin but for a square of 1500 in its middle. */
const BLOB: readonly Corner[] = [
  [0, 0],
  [5000, 0],
  [5000, -700],
  [6500, -700],
  [6500, 0],
  [12_000, 0],
  [12_000, 100],
  [6500, 100],
  [6500, 800],
  [5000, 800],
  [5000, 100],
  [0, 100],
];

test.each([
  ['a right triangle', TRIANGLE, 2000],
  ['a slanting strip', STRIP, 1000],
  ['a bow', BOW, 800],
  ['a strip with a blob', BLOB, 1500],
])('%s is a sliver just above its width, and none just below', (_, corners, width) => {
  expect(isSliver(flat(corners), corners.length, 1.05 * width)).toBe(true);
  expect(isSliver(flat(corners), corners.length, 0.95 * width)).toBe(false);
});

/** Fringes along the long sides of a narrow patch: the first and last zones are cut lengthwise. */
const PATCHES = [
  {
    id: 'cut',
    given: { outline: rectangle([0, 20], 0.3, 0.1, 0.11), centre: [0, 20], target: [0, 80, 900] },
    minFeature: 7e-3,
  },
  {
    id: 'slanting',
    given: { outline: rectangle([10, 0], 0.2, 0.1, 0.5), centre: [10, 0], target: [60, 0, 400] },
    minFeature: 2.2e-3,
  },
] as const;
const base = patternDesign();
const withLeast = ({ id, given }: (typeof PATCHES)[number], minFeature: number) => ({
  ...base,
  patches: [samplePatch({ id, ...given })] as unknown as typeof base.patches,
  scenario: { ...base.scenario, process: { ...base.scenario.process, minFeature } },
});

/** Twice the largest distance from the sides over a grid of points inside. */
function widthByGrid(corners: readonly Corner[]): number {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  const [left, bottom] = [Math.min(...xs), Math.min(...ys)];
  const [across, up] = [Math.max(...xs) - left, Math.max(...ys) - bottom];
  const sides = corners.map((a, k) => [a, corners[(k + 1) % corners.length]!] as const);
  const depthAt = ([x, y]: Corner): number => {
    let [inside, nearest] = [false, Infinity];
    for (const [[ax, ay], [bx, by]] of sides) {
      if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
      const [dx, dy] = [bx - ax, by - ay];
      const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      nearest = Math.min(nearest, Math.hypot(x - ax - t * dx, y - ay - t * dy));
    }
    return inside ? nearest : 0;
  };
  let best = 0;
  const N = 160;
  for (let i = 0; i < N; i++)
    for (let j = 0; j < N; j++)
      best = Math.max(best, depthAt([left + (across * (i + 0.5)) / N, bottom + (up * (j + 0.5)) / N]));
  return 2 * best;
}

describe.each(PATCHES)('of the patch $id, which its edges cut along its lines', (patch) => {
  const { id, minFeature } = patch;
  const kept = written(withLeast(patch, minFeature), { format: 'gds' });
  const [found] = kept.summary.patches;

  it('as many slivers are counted as a grid of distances finds', () => {
    const widths = readGds(kept.bytes)
      .polygons(id)
      .filter(({ layer }) => layer === 1)
      .map(({ points }) => widthByGrid(points));
    const surely = widths.filter((width) => width < 0.94 * minFeature).length;
    expect(surely).toBeGreaterThan(0);
    expect(widths.length).toBeGreaterThan(surely);
    expect(found!.slivers).toBe(surely);
    expect(widths.filter((width) => width < minFeature)).toHaveLength(surely);
  });

  it('they are kept unless asked, and what is dropped is what was counted', () => {
    const [other] = written(withLeast(patch, minFeature), { format: 'gds', slivers: 'drop' }).summary.patches;
    expect(other!.slivers).toBe(found!.slivers);
    expect(other!.polygons).toBe(found!.polygons - found!.slivers);
    expect(other!.area).toBeLessThan(found!.area);
  });

  it('the file says how many there are and what became of them', () => {
    const note = (options: object, least: number) => {
      const { bytes, summary } = written(withLeast(patch, least), { format: 'gds', ...options });
      const texts = readGds(bytes).notes(summary.topCell);
      return texts.map(({ text }) => text).find((text) => text.startsWith('SLIVERS'));
    };
    const many = found!.slivers === 1 ? '1 written area is' : `${found!.slivers} written areas are`;
    const said = `SLIVERS: ${many} narrower than ${minFeature * 1e3} um throughout`;
    expect(note({}, minFeature)).toBe(`${said}; kept in the data.`);
    expect(note({ slivers: 'drop' }, minFeature)).toBe(`${said}; left out of the data.`);
    expect(note({}, 1e-4)).toBe('SLIVERS: none; every written area is somewhere 0.1 um wide or more.');
  });
});
