/** The scan lines that whole cells are judged by see what is wrong: a line too narrow, a space too close, an overlap, a polygon twice. */
import { expect, test } from 'vitest';
import { type EachPolygon, scanRules } from './scanned-rules.ts';

type Corner = readonly [number, number];

const polygons =
  (all: readonly (readonly Corner[])[]): EachPolygon =>
  (take) => {
    for (const corners of all) take(Int32Array.from(corners.flat()), corners.length);
  };
/** Counterclockwise, turned by so many degrees about the origin. */
const bar = (from: number, to: number, turned = 0): Corner[] => {
  const [c, s] = [Math.cos((turned * Math.PI) / 180), Math.sin((turned * Math.PI) / 180)];
  const corners: Corner[] = [
    [from, -40_000],
    [to, -40_000],
    [to, 40_000],
    [from, 40_000],
  ];
  return corners.map(([x, y]) => [Math.round(x * c - y * s), Math.round(x * s + y * c)]);
};
const RULE = { least: 1000, margin: 2000, lines: 300 };
const outline = polygons([
  [
    [-90_000, -90_000],
    [90_000, -90_000],
    [90_000, 90_000],
    [-90_000, 90_000],
  ],
]);
const scanned = (bars: readonly Corner[][]) => scanRules(polygons(bars), outline, RULE);

test.each([0, 20, 45, 70, 90, 135])(
  'bars turned by %d degrees, of 1,005 and 1,100 apart, are wide enough',
  (turned) => {
    const found = scanned([bar(0, 1005, turned), bar(2105, 3110, turned), bar(4210, 5215, turned)]);
    expect(found).toMatchObject({ polygons: 3, narrow: 0, close: 0, twice: 0 });
    expect(found.judged).toBeGreaterThan(300);
    // Corners are rounded to the grid.
    expect(Math.abs(found.leastLine - 1005)).toBeLessThan(3);
    expect(Math.abs(found.leastSpace - 1100)).toBeLessThan(3);
  },
);

test.each([
  ['a line that is too narrow', [bar(0, 990), bar(2105, 3110)], 'narrow'],
  ['a space that is too close', [bar(0, 1005), bar(1990, 3000)], 'close'],
  ['an overlap', [bar(0, 1005), bar(995, 3000)], 'twice'],
  ['a polygon that stands there twice', [bar(0, 1005), bar(0, 1005)], 'twice'],
] as const)('%s is seen', (_, bars, fault) => {
  for (const turned of [0, 30]) {
    const all = bars.map((corners) => corners.map((corner) => rotated(corner, turned)));
    expect(scanned(all)[fault], `turned by ${turned}`).toBeGreaterThan(10);
  }
});

function rotated([x, y]: Corner, degrees: number): Corner {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return [Math.round(x * c - y * s), Math.round(x * s + y * c)];
}
