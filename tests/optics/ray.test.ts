import { describe, expect, it } from 'vitest';
import { dot, length, unit, type Vec3 } from '../../src/geometry/vector.ts';
import { along, directionFromLateral, reflect, runToHeight, slabCrossing } from '../../src/optics/ray.ts';
import { refract } from '../independent/ray.ts';

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
      const inside = refract(outside, 1, index) as Vec3;
      const entry = { point: [0, 0, 0] as Vec3, direction: inside };
      const run = runToHeight(entry, thickness);
      const [x, y] = along(entry, run);
      const crossing = slabCrossing(sine * sine, thickness, index);
      expect(x).toBeCloseTo(outside[0] * crossing.runPerCosine, 12);
      expect(y).toBeCloseTo(outside[1] * crossing.runPerCosine, 12);
      expect(crossing.path).toBeCloseTo(index * run, 12);
      expect(refract(inside, index, 1)[0]).toBeCloseTo(outside[0], 14);
    }
  });
});
