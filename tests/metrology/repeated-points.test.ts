/** Points measured several times: the mean, its covariance by hand from JCGM 100:2008, 4.2, and repeats that do not belong together. mm. */
import { describe, expect, it, test } from 'vitest';
import { add, type Vec3 } from '../../src/geometry/vector.ts';
import { meanPoints } from '../../src/metrology/transfer/repeated-points.ts';
import type { TrackedPoint } from '../../src/scenario/tracked-point.ts';
import { normalDeviates } from '../independent/random.ts';

const SIGMA: Vec3 = [0.02, 0.03, 0.04];

const point = (at: Vec3, line: number, sigma: Vec3 | undefined = SIGMA): TrackedPoint => ({
  ...{ name: 'tower', reference: 'tower', side: 'hologram' },
  measured: { kind: 'cartesian', at, sigma },
  place: { file: 'p.csv', line, column: 1, endLine: line, endColumn: 6 },
});

const random = normalDeviates(3);
const drawn = (count: number, u: number): Vec3[] =>
  Array.from({ length: count }, (): Vec3 => [100 + u * random(), 200 + u * random(), 300 + u * random()]);

describe.each([2, 3, 8])('%i measurements of one point', (count) => {
  const places = drawn(count, 0.01);
  const { points, findings } = meanPoints(places.map((at, k) => point(at, k + 2)));
  const mean = [0, 1, 2].map((k) => places.reduce((sum, at) => sum + at[k]! / count, 0));

  it('are one point at their mean', () => {
    expect(findings).toEqual([]);
    expect(points).toHaveLength(1);
    [0, 1, 2].forEach((k) => {
      expect(points[0]!.at[k]).toBeCloseTo(mean[k]!, 10);
    });
    expect(points[0]!.repeats!.count).toBe(count);
  });

  it('have the stated covariance of one, and the sample covariance over their number', () => {
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        const sample =
          places.reduce((sum, at) => sum + (at[i]! - mean[i]!) * (at[j]! - mean[j]!), 0) / (count - 1);
        const stated = i === j ? SIGMA[i]! ** 2 : 0;
        expect(points[0]!.covariance[i * 3 + j]).toBeCloseTo(stated + sample / count, 12);
        if (i === j) expect(points[0]!.repeats!.scatter[i]).toBeCloseTo(Math.sqrt(sample), 10);
      }
    }
  });
});

test('a point measured once has what is stated, and no scatter', () => {
  const { points } = meanPoints([point([1, 2, 3], 2)]);
  expect(points[0]!.repeats).toBeUndefined();
  expect(points[0]!.covariance).toEqual(Float64Array.of(4e-4, 0, 0, 0, 9e-4, 0, 0, 0, 16e-4));
});

test('azimuths on both sides of 180° have their mean between them', () => {
  const at = (azimuth: number): TrackedPoint => ({
    ...point([0, 0, 0], 2),
    measured: { kind: 'spherical', range: 1000, azimuth, elevation: 0, sigma: undefined },
  });
  const { points } = meanPoints([at(Math.PI - 1e-5), at(-Math.PI + 1e-5)]);
  expect(points[0]!.at[0]).toBeCloseTo(-1000, 6);
  expect(points[0]!.at[1]).toBeCloseTo(0, 9);
});

test('one point at its focus and on the part is two', () => {
  const { points } = meanPoints([point([1, 2, 3], 2), { ...point([4, 5, 6], 3), side: 'part' }]);
  expect(points.map(({ side, at }) => [side, ...at])).toEqual([
    ['hologram', 1, 2, 3],
    ['part', 4, 5, 6],
  ]);
});

test('a scatter far beyond what is stated is a warning at the first of them', () => {
  const places = drawn(4, 0.3);
  const { findings } = meanPoints(places.map((at, k) => point(at, k + 2)));
  expect(findings).toMatchObject([{ severity: 'warning', rule: 'scattered-repeats', place: { line: 2 } }]);
});

test('two places under one name are refused at the second', () => {
  const [first] = drawn(1, 0);
  const { findings } = meanPoints([point(first!, 2), point(first!, 5), point(add(first!, [0, 3, 4]), 9)]);
  expect(findings).toMatchObject([{ severity: 'error', rule: 'duplicate-id', place: { line: 9 } }]);
  expect(findings[0]!.message).toMatch(
    /^tower is 5\.00 mm from where it was first measured on line 2: two places/,
  );
});
