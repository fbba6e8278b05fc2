import { expect, it } from 'vitest';
import { add, cross, dot, length, scale, subtract, unit, type Vec3 } from '../../src/geometry/vector.ts';
import { reflectAtBall } from '../../src/optics/ball.ts';

const centre: Vec3 = [10, -5, 200];
const radius = 6.35;
const ball = { centre, radius };
const start: Vec3 = [1, 2, 0];
const chief = unit(subtract(centre, start));

it('sends a ray aimed at its centre back on itself, from the near side', () => {
  const back = reflectAtBall(ball, { point: start, direction: chief })!;
  expect(back.path).toBeCloseTo(length(subtract(centre, start)) - radius, 11);
  back.ray.direction.forEach((value, i) => {
    expect(value).toBeCloseTo(-chief[i], 12);
  });
});

it('obeys the law of reflection on the real sphere', () => {
  const direction = unit(add(chief, [0.01, -0.02, 0]));
  const back = reflectAtBall(ball, { point: start, direction })!;
  const normal = subtract(back.ray.point, centre);
  expect(length(normal)).toBeCloseTo(radius, 11);
  expect(dot(back.ray.direction, normal)).toBeCloseTo(-dot(direction, normal), 11);
  expect(dot(cross(direction, normal), back.ray.direction)).toBeCloseTo(0, 11);
});

it('returns a ray that misses the centre by h as if from h on the other side, to first order in h/R', () => {
  const side = unit(cross(chief, [0, 1, 0]));
  const errorOf = (miss: number): number => {
    const through = add(centre, scale(side, miss));
    const back = reflectAtBall(ball, { point: start, direction: unit(subtract(through, start)) })!.ray;
    // Where the returned ray, drawn back behind the mirror, passes the centre.
    const toCentre = subtract(centre, back.point);
    const passing = add(back.point, scale(back.direction, dot(toCentre, back.direction)));
    return Math.abs(dot(subtract(passing, centre), side) + miss);
  };
  // The impact parameter is kept by reflection at a sphere; what is left is the plane in which it is measured.
  expect(errorOf(0.01)).toBeLessThan(2e-7);
  expect(errorOf(0.1) / errorOf(0.05)).toBeGreaterThan(7);
});

it('loses a ray that passes beside the ball, or starts beyond it', () => {
  const side = unit(cross(chief, [0, 1, 0]));
  const aimedAt = (point: Vec3) => unit(subtract(point, start));
  expect(
    reflectAtBall(ball, { point: start, direction: aimedAt(add(centre, scale(side, 6.4))) }),
  ).toBeUndefined();
  expect(reflectAtBall(ball, { point: add(centre, [0, 0, 50]), direction: [0, 0, 1] })).toBeUndefined();
});
