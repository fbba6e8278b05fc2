/** Polygons cut to the vertex limit: of any form, with many vertices on the very line of the cut, the parts fill the whole and no more. */
import { describe, expect, test } from 'vitest';
import { splitPolygon } from '../../../src/writing/pattern/split-polygon.ts';
import { deviates } from '../../independent/random.ts';

type Corner = readonly [number, number];
const flat = (corners: readonly Corner[]): Int32Array => Int32Array.from(corners.flat());

/** Square units, exact: half a square counts half. */
function areaOf(points: Int32Array): number {
  let twice = 0;
  for (let k = 0, j = points.length - 2; k < points.length; j = k, k += 2)
    twice += points[j]! * points[k + 1]! - points[k]! * points[j + 1]!;
  return twice / 2;
}

function holds(points: Int32Array, x: number, y: number): boolean {
  let inside = false;
  for (let k = 0, j = points.length - 2; k < points.length; j = k, k += 2) {
    const [px, py, qx, qy] = [points[j]!, points[j + 1]!, points[k]!, points[k + 1]!];
    if (py > y !== qy > y && x < px + ((y - py) / (qy - py)) * (qx - px)) inside = !inside;
  }
  return inside;
}

const { uniform } = deviates(7);
const star = Array.from({ length: 3000 }, (_, k): Corner => {
  const [angle, radius] = [(2 * Math.PI * k) / 3000, 2e6 * (0.3 + 0.7 * uniform())];
  return [Math.round(radius * Math.cos(angle)), Math.round(radius * Math.sin(angle))];
});
/** Teeth that all begin on one level, where a cut by rank comes to lie. */
const comb: Corner[] = [[0, -1000]];
for (let k = 0; k < 400; k++) {
  comb.push([60 * k + 10, -1000], [60 * k + 10, 0], [60 * k + 20, 0], [60 * k + 20, 40_000]);
  comb.push([60 * k + 40, 40_000], [60 * k + 40, 0]);
}
comb.push([24_010, 0], [24_010, 50_000], [-10, 50_000], [-10, -1000]);
/** A line of a ring: long, narrow and closed but for a slit. */
const arc = (radius: number, k: number): Corner => {
  const angle = 0.001 + ((2 * Math.PI - 0.002) * k) / 2500;
  return [Math.round(radius * Math.cos(angle)), Math.round(radius * Math.sin(angle))];
};
const ring = [
  ...Array.from({ length: 2501 }, (_, k) => arc(3e6, k)),
  ...Array.from({ length: 2501 }, (_, k) => arc(2.99e6, 2500 - k)),
];

describe.each([
  ['a star', star],
  ['a ring with a slit', ring],
])('%s', (_, corners) => {
  test.each([8, 60, 1000])('of at most %i vertices each', (limit) => {
    const whole = flat(corners);
    const parts = splitPolygon(whole, whole.length / 2, limit);
    expect(parts.length).toBeGreaterThan(whole.length / 2 / limit);
    expect(Math.max(...parts.map((part) => part.length / 2))).toBeLessThanOrEqual(limit);
    expect(Math.min(...parts.map(areaOf))).toBeGreaterThanOrEqual(0);
    // A corner on a cut is rounded by half a unit each way.
    const cuts = parts.reduce((sum, part) => sum + Math.sqrt(Math.abs(areaOf(part))), 0);
    expect(Math.abs(parts.reduce((sum, part) => sum + areaOf(part), 0) - areaOf(whole))).toBeLessThan(
      10 * cuts + 1e-4 * areaOf(whole),
    );
    for (let k = 0; k < 300; k++) {
      const [x, y] = [3e6 * (2 * uniform() - 1), 3e6 * (2 * uniform() - 1)];
      expect(parts.filter((part) => holds(part, x, y)).length).toBe(holds(whole, x, y) ? 1 : 0);
    }
  });
});

test('a polygon within the limit stays as it is', () => {
  const square = flat([
    [0, 0],
    [9, 0],
    [9, 9],
    [0, 9],
  ]);
  expect(splitPolygon(square, 4, 4)).toEqual([square]);
});

test('one whose edge runs along the line of a cut falls into parts that fill it', () => {
  const teeth = flat(comb);
  const parts = splitPolygon(teeth, teeth.length / 2, 50);
  expect(Math.max(...parts.map((part) => part.length / 2))).toBeLessThanOrEqual(50);
  expect(parts.reduce((sum, part) => sum + areaOf(part), 0)).toBe(areaOf(teeth));
});

test('one that runs the wrong way round, as a part of one that crosses itself does, is refused', () => {
  const clockwise = flat([
    [0, 0],
    [0, 100],
    [100, 100],
    [100, 0],
    [50, -10],
  ]);
  expect(() => splitPolygon(clockwise, 5, 4)).toThrow(/crosses itself/);
});
