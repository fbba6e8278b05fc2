/** Waves that meet a datum at normal incidence, by rays traced through the slab to the real surface. */
import { describe, expect, it } from 'vitest';
import { cross, dot, length, subtract, unit, type Vec3 } from '../../src/geometry/vector.ts';
import { conicalWave, ringFocusWave } from '../../src/optics/air-wave.ts';
import {
  type DatumSurface,
  movedSurface,
  reflectAtSurface,
  runToSurface,
  signedDistance,
} from '../../src/optics/datum-surface.ts';
import type { Eikonal } from '../../src/optics/eikonal.ts';
import { layeredWave } from '../../src/optics/layered-wave.ts';
import { planeWave } from '../../src/optics/plane-wave.ts';
import { along, directionFromLateral } from '../../src/optics/ray.ts';
import { reversedWave } from '../../src/optics/reversed-wave.ts';
import { sphericalWave } from '../../src/optics/spherical-wave.ts';
import { refract } from '../independent/ray.ts';

const INDEX = 1.457;
const tilted = unit([0.03, -0.05, 1]);

interface Case {
  readonly surface: DatumSurface;
  readonly wave: (t: number) => Eikonal;
  readonly at: readonly [number, number];
}
const cone = (half: number, axis: Vec3, side: 'outside' | 'inside', apex: Vec3): Case => ({
  surface: { shape: 'cone', point: apex, axis, halfAngle: half, side },
  wave: (t) => layeredWave(conicalWave(apex, axis, half, side), t, INDEX),
  at: [50, 20],
});
const torus = (centre: Vec3, axis: Vec3, side: 'outside' | 'inside', sense: 1 | -1 = 1): Case => ({
  surface: { shape: 'torus', point: centre, axis, radius: 60, tube: 12, side },
  wave: (t) => layeredWave(ringFocusWave(centre, axis, 60, sense), t, INDEX),
  at: [40, 25],
});
const CASES: Record<string, Case> = {
  'a plane': {
    surface: { shape: 'plane', point: [10, 0, 500], normal: unit([0.1, -0.02, -1]) },
    wave: () => planeWave(unit([-0.1, 0.02, 1])),
    at: [30, 40],
  },
  'a convex sphere': {
    surface: { shape: 'sphere', point: [5, 3, 400], radius: 60, side: 'outside' },
    wave: (t) => sphericalWave([5, 3], 400 - t, -1, t, INDEX),
    at: [30, 40],
  },
  'a concave sphere, through its centre': {
    surface: { shape: 'sphere', point: [5, 3, 400], radius: 200, side: 'inside' },
    wave: (t) => sphericalWave([5, 3], 400 - t, -1, t, INDEX),
    at: [30, 40],
  },
  'a concave sphere centred behind the hologram': {
    surface: { shape: 'sphere', point: [5, 3, -300], radius: 800, side: 'inside' },
    wave: (t) => sphericalWave([5, 3], -300 - t, -1, t, INDEX),
    at: [30, 40],
  },
  'the outside of a cone': cone(1.3, [0, 0, 1], 'outside', [0, 0, 60]),
  'the outside of a tilted cone': cone(1.3, tilted, 'outside', [3, 2, 60]),
  'the inside of a cone': cone(1.2, [0, 0, -1], 'inside', [0, 0, 700]),
  'the inside of a tilted cone': cone(1.2, [-tilted[0], -tilted[1], -tilted[2]], 'inside', [3, 2, 700]),
  'a bead': torus([0, 0, 350], [0, 0, 1], 'outside'),
  'a tilted bead': torus([4, -3, 350], tilted, 'outside'),
  'a groove, through the ring focus': torus([4, -3, 350], tilted, 'inside'),
};

const pathAndSlope = (wave: Eikonal, x: number, y: number) => {
  const [out, gx, gy] = [new Float64Array(1), new Float64Array(1), new Float64Array(1)];
  wave.accumulateWithGradient(Float64Array.of(x), Float64Array.of(y), 1, out, gx, gy, 1);
  return { path: out[0]!, px: gx[0]!, py: gy[0]! };
};

/** The ray in air that leaves P, through the slab by Snell's law as a vector. */
function rayFrom(wave: Eikonal, x: number, y: number, t: number) {
  const { path, px, py } = pathAndSlope(wave, x, y);
  if (t === 0)
    return {
      path,
      inGlass: 0,
      ray: { point: [x, y, 0] as Vec3, direction: directionFromLateral([px, py], 1, 1)! },
    };
  const inside = directionFromLateral([px, py], INDEX, 1)!;
  const run = t / inside[2];
  return {
    path,
    inGlass: INDEX * run,
    ray: {
      point: along({ point: [x, y, 0], direction: inside }, run),
      direction: refract(inside, INDEX, 1),
    },
  };
}

describe.each([0, 6.35])('through %f mm of glass', (t) => {
  it.each(Object.entries(CASES))(
    'rays meet %s at normal incidence, to 1e-9',
    (_name, { surface, wave, at }) => {
      for (const [dx, dy] of [
        [0, 0],
        [7, -4],
        [-6, 9],
      ] as const) {
        const { ray } = rayFrom(wave(t), at[0] + dx, at[1] + dy, t);
        const run = runToSurface(surface, ray)!;
        const { value, normal } = signedDistance(surface, along(ray, run));
        expect(Math.abs(value)).toBeLessThan(1e-10);
        expect(length(cross(normal, ray.direction))).toBeLessThan(1e-9);
        // So the light comes back on itself.
        const back = reflectAtSurface(surface, ray)!;
        expect(
          length(subtract(back.ray.direction, [-ray.direction[0], -ray.direction[1], -ray.direction[2]])),
        ).toBeLessThan(2e-9);
      }
    },
  );

  it.each(Object.entries(CASES))(
    'all paths to %s are one: E_out is what is left of a constant',
    (_name, { surface, wave, at }) => {
      const whole = (dx: number, dy: number): number => {
        const { path, inGlass, ray } = rayFrom(wave(t), at[0] + dx, at[1] + dy, t);
        return -path - inGlass - runToSurface(surface, ray)!;
      };
      const [first, ...rest] = [whole(0, 0), whole(5, 3), whole(-8, 2), whole(1, -9)];
      for (const other of rest) expect(Math.abs(other - first!)).toBeLessThan(1e-9);
    },
  );

  it.each(Object.entries(CASES))(
    'slopes for %s are the differences of the path, within the bound of curvature',
    (_name, { wave, at }) => {
      const [e, h] = [wave(t), 1e-3];
      const { px, py } = pathAndSlope(e, ...at);
      const diff = (dx: number, dy: number) =>
        (pathAndSlope(e, at[0] + dx, at[1] + dy).path - pathAndSlope(e, at[0] - dx, at[1] - dy).path) /
        (2 * h);
      expect(px).toBeCloseTo(diff(h, 0), 8);
      expect(py).toBeCloseTo(diff(0, h), 8);
      const bound = e.curvatureBound({ minX: at[0] - 5, maxX: at[0] + 5, minY: at[1] - 5, maxY: at[1] + 5 });
      for (const angle of [0, 0.5, 1, 1.5, 2, 2.5]) {
        const [cx, cy] = [Math.cos(angle), Math.sin(angle)];
        const [ahead, behind] = [
          pathAndSlope(e, at[0] + 4 * h * cx, at[1] + 4 * h * cy),
          pathAndSlope(e, at[0] - 4 * h * cx, at[1] - 4 * h * cy),
        ];
        const bend = ((ahead.px - behind.px) * cx + (ahead.py - behind.py) * cy) / (8 * h);
        expect(Math.abs(bend)).toBeLessThanOrEqual(bound * (1 + 1e-6));
      }
    },
  );
});

describe('a real surface', () => {
  it('is not met from its far side, behind the ray, or beside it', () => {
    const ray = { point: [0, 0, 0] as Vec3, direction: [0, 0, 1] as Vec3 };
    expect(runToSurface({ shape: 'plane', point: [0, 0, 10], normal: [0, 0, 1] }, ray)).toBeUndefined();
    expect(
      runToSurface({ shape: 'sphere', point: [0, 0, -10], radius: 2, side: 'outside' }, ray),
    ).toBeUndefined();
    expect(
      runToSurface({ shape: 'sphere', point: [5, 0, 10], radius: 2, side: 'outside' }, ray),
    ).toBeUndefined();
  });

  it('keeps its distances when it moves as a body', () => {
    for (const { surface } of Object.values(CASES)) {
      const [move, turn, about]: Vec3[] = [
        [0.3, -0.2, 0.5],
        [0, 0, 0.4],
        [1, 2, 3],
      ];
      const moved = movedSurface(surface, move!, turn!, about!);
      const place: Vec3 = [20, -10, 330];
      const [c, s] = [Math.cos(0.4), Math.sin(0.4)];
      const [x, y, z] = subtract(place, about!);
      const carried: Vec3 = [1 + c * x - s * y + 0.3, 2 + s * x + c * y - 0.2, 3 + z + 0.5];
      expect(signedDistance(moved, carried).value).toBeCloseTo(signedDistance(surface, place).value, 10);
      expect(
        dot(signedDistance(moved, carried).normal, signedDistance(surface, place).normal),
      ).toBeGreaterThan(0);
    }
  });
});

it('a reversed wave is the wave with its sign turned', () => {
  const wave = sphericalWave([1, 2], 500, 1, 0, 1);
  const [one, other] = [pathAndSlope(wave, 30, 4), pathAndSlope(reversedWave(wave), 30, 4)];
  expect([other.path, other.px, other.py]).toEqual([-one.path, -one.px, -one.py]);
});
