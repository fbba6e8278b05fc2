/** Distances of convex bodies against closed forms and against brute force; meshes against their triangles one by one. */
import { expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import {
  boxCorners,
  type ConvexBody,
  convexDistance,
  frustumBody,
  hullBody,
  sphereBody,
} from '../../src/geometry/convex-bodies.ts';
import { meshDistance, meshOf, triangleAt } from '../../src/geometry/solids-mesh.ts';
import { add, cross, distance, dot, scale, subtract, unit, type Vec3 } from '../../src/geometry/vector.ts';

const random = randomFrom('convex');
const near = (spread: number): Vec3 => [
  spread * random.normal(),
  spread * random.normal(),
  spread * random.normal(),
];
const direction = (): Vec3 => unit(near(1));

/** From a point to a frustum, in the half-plane through its axis: r along, h up; the nearest of its three edges, 0 inside. */
function pointToFrustum(p: Vec3, point: Vec3, axis: Vec3, r0: number, r1: number, length: number): number {
  const v = subtract(p, point);
  const h = dot(v, axis);
  const r = Math.sqrt(Math.max(0, dot(v, v) - h * h));
  if (h >= 0 && h <= length && r <= r0 + ((r1 - r0) * h) / length) return 0;
  const toEdge = (a: readonly [number, number], b: readonly [number, number]): number => {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((r - a[0]) * dx + (h - a[1]) * dy) / (dx * dx + dy * dy)));
    return Math.hypot(r - a[0] - t * dx, h - a[1] - t * dy);
  };
  return Math.min(toEdge([0, 0], [r0, 0]), toEdge([r0, 0], [r1, length]), toEdge([r1, length], [0, length]));
}

const pointBody = (p: Vec3): ConvexBody => hullBody([p]);

test('a point from a sphere, a box, a cylinder and a cone: closed forms, inside and out', () => {
  for (let k = 0; k < 500; k++) {
    const p = near(60);
    const radius = 5 + 40 * random.uniform();
    const centre = near(30);
    expect(convexDistance(pointBody(p), sphereBody(centre, radius))).toBeCloseTo(
      Math.max(0, distance(p, centre) - radius),
      8,
    );
    const size: Vec3 = [10 + 50 * random.uniform(), 10 + 50 * random.uniform(), 10 + 50 * random.uniform()];
    const gaps = [0, 1, 2].map((i) => Math.max(0, centre[i]! - p[i]!, p[i]! - centre[i]! - size[i]!));
    expect(convexDistance(pointBody(p), hullBody(boxCorners(centre, size)))).toBeCloseTo(
      Math.hypot(...gaps),
      8,
    );
    const axis = direction();
    const [r0, r1] = [radius, k % 2 ? radius : 30 * random.uniform()];
    const length = 10 + 80 * random.uniform();
    expect(convexDistance(pointBody(p), frustumBody(centre, axis, r0, r1, length))).toBeCloseTo(
      pointToFrustum(p, centre, axis, r0, r1, length),
      8,
    );
  }
});

test('a segment from a frustum: the least over points of the segment, by golden section on a convex function', () => {
  for (let k = 0; k < 200; k++) {
    const [from, to, point, axis] = [near(80), near(80), near(20), direction()];
    const [r0, r1, length] = [30 * random.uniform(), 30 * random.uniform(), 50 * random.uniform() + 1];
    let [low, high] = [0, 1];
    const at = (t: number): number =>
      pointToFrustum(add(from, scale(subtract(to, from), t)), point, axis, r0, r1, length);
    for (let step = 0; step < 120; step++) {
      const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
      if (at(a) < at(b)) high = b;
      else low = a;
    }
    expect(convexDistance(hullBody([from, to]), frustumBody(point, axis, r0, r1, length))).toBeCloseTo(
      at(low),
      6,
    );
  }
});

test('two bodies: the distance is the same either way round, under a move of both, and never above that of any two points', () => {
  for (let k = 0; k < 200; k++) {
    const bodies: ConvexBody[] = [
      hullBody(Array.from({ length: 8 }, () => add(near(20), [40, 0, 0]))),
      k % 2 ? frustumBody(near(30), direction(), 12, 3, 40) : sphereBody(near(30), 9),
    ];
    const one = convexDistance(bodies[0]!, bodies[1]!);
    expect(convexDistance(bodies[1]!, bodies[0]!)).toBeCloseTo(one, 7);
    for (let n = 0; n < 50; n++) {
      const [d, e] = [direction(), direction()];
      const p = bodies[0]!.support(d);
      const q = add(bodies[1]!.support(e), scale(e, bodies[1]!.margin));
      expect(distance(p, q)).toBeGreaterThanOrEqual(one - 1e-9);
      // A plane square to d between them is the other bound.
      const gap =
        -dot(bodies[0]!.support(scale(d, -1)), scale(d, -1)) -
        (dot(bodies[1]!.support(d), d) + bodies[1]!.margin);
      expect(gap).toBeLessThanOrEqual(one + 1e-9);
    }
  }
});

test('a mesh is as far as the nearest of its triangles', () => {
  const corners = new Float64Array(9 * 300);
  for (let k = 0; k < 300; k++) {
    const middle = near(80);
    for (let i = 0; i < 9; i++) corners[9 * k + i] = middle[i % 3]! + 6 * random.normal();
  }
  const mesh = meshOf(corners);
  for (let k = 0; k < 60; k++) {
    const body = hullBody([near(120), near(120)]);
    const each = Array.from({ length: 300 }, (_, n) => convexDistance(hullBody(triangleAt(mesh, n)), body));
    expect(meshDistance(mesh, body)).toBeCloseTo(Math.min(...each), 8);
  }
  expect(() => meshOf(new Float64Array(8))).toThrow(/nine/);
});

test('triangles that share an edge line, and bodies that lie flat on each other, do not confuse it', () => {
  const flat = hullBody(boxCorners([0, 0, 0], [10, 10, 10]));
  expect(convexDistance(flat, hullBody(boxCorners([0, 0, 12], [10, 10, 1])))).toBeCloseTo(2, 9);
  expect(convexDistance(flat, hullBody(boxCorners([0, 0, 10], [10, 10, 1])))).toBe(0);
  expect(convexDistance(flat, hullBody(boxCorners([20, 20, 20], [1, 1, 1])))).toBeCloseTo(Math.sqrt(300), 9);
  const tilted = cross([0, 0, 1], [1, 0, 0]);
  expect(convexDistance(frustumBody([0, 0, 0], tilted, 5, 5, 10), sphereBody([0, 5, 9], 4))).toBe(0);
});
