import { describe, expect, it } from 'vitest';
import { dot, length, unit, type Vec3 } from '../../src/geometry/vector.ts';
import {
  along,
  directionFromLateral,
  reflect,
  refract,
  runToHeight,
  slabCrossing,
} from '../../src/optics/ray.ts';

describe('refract', () => {
  it.each([
    [30, 1, 1.5],
    [60, 1, 1.457],
    [20, 1.5, 1],
    [0, 1, 1.7],
  ])('keeps Snell’s law and the plane of incidence: %f° from index %f into %f', (angle, before, after) => {
    const sine = Math.sin((angle * Math.PI) / 180);
    const direction: Vec3 = [sine * 0.6, sine * 0.8, Math.sqrt(1 - sine * sine)];
    for (const normal of [[0, 0, 1] as Vec3, [0, 0, -1] as Vec3]) {
      const out = refract(direction, normal, before, after)!;
      expect(length(out)).toBeCloseTo(1, 14);
      expect(after * out[0]).toBeCloseTo(before * direction[0], 14);
      expect(after * out[1]).toBeCloseTo(before * direction[1], 14);
      expect(out[2]).toBeGreaterThan(0);
    }
  });

  it('totally reflects beyond the critical angle', () => {
    const critical = Math.asin(1 / 1.5);
    const at = (angle: number) => refract([Math.sin(angle), 0, Math.cos(angle)], [0, 0, 1], 1.5, 1);
    expect(at(critical - 1e-6)).toBeDefined();
    expect(at(critical + 1e-6)).toBeUndefined();
  });
});

it('reflects with equal angles', () => {
  const normal = unit([1, 2, 3]);
  const out = reflect(unit([0.3, -0.2, -1]), normal);
  expect(dot(out, normal)).toBeCloseTo(-dot(unit([0.3, -0.2, -1]), normal), 14);
  expect(length(out)).toBeCloseTo(1, 14);
});

describe('slabCrossing', () => {
  it('agrees with refraction at both faces, traced as vectors', () => {
    const [thickness, index] = [6.35, 1.457];
    for (const sine of [0, 0.1, 0.5, 0.9]) {
      const outside = directionFromLateral([sine * 0.6, -sine * 0.8], 1, 1)!;
      const inside = refract(outside, [0, 0, 1], 1, index)!;
      const entry = { point: [0, 0, 0] as Vec3, direction: inside };
      const run = runToHeight(entry, thickness);
      const [x, y] = along(entry, run);
      const crossing = slabCrossing(sine * sine, thickness, index);
      expect(x).toBeCloseTo(outside[0] * crossing.runPerCosine, 12);
      expect(y).toBeCloseTo(outside[1] * crossing.runPerCosine, 12);
      expect(crossing.path).toBeCloseTo(index * run, 12);
      expect(refract(inside, [0, 0, 1], index, 1)![0]).toBeCloseTo(outside[0], 14);
    }
  });
});
