/**
 * Where light that comes square on meets a datum surface: rays laid back from points of the surface along its normal, by the surfaces'
 * own equations, at the sizes and distances of a bench. Each has to come back to where it was laid from; mm.
 */
import { describe, expect, test } from 'vitest';
import { type DatumSurface, runToSurface } from '../../src/optics/datum-surface.ts';
import { inner, outer, plus, unit } from '../independent/scene.ts';

type Place = readonly [number, number, number];

const AXIS = unit([-0.007, 0.012, 1]);
const ACROSS = unit(outer(AXIS, [1, 0, 0]));
const BESIDE = outer(AXIS, ACROSS);
const out = (angle: number): Place =>
  plus(
    [ACROSS[0] * Math.cos(angle), ACROSS[1] * Math.cos(angle), ACROSS[2] * Math.cos(angle)],
    BESIDE,
    Math.sin(angle),
  );
const scaled = (a: Place, by: number): Place => [a[0] * by, a[1] * by, a[2] * by];

/** A foot on the surface by two numbers from 0 to 1, the direction of the light there, and how long a way it comes. */
interface Laid {
  readonly surface: DatumSurface;
  readonly foot: (a: number, b: number) => { readonly at: Place; readonly light: Place };
  readonly way: number;
}

const CENTRE: Place = [3, -2, 217];
/** Of the light that leaves a sphere's centre or a tube's circle, or comes to it. */
const ball = (radius: number, side: 'outside' | 'inside', way: number): Laid => ({
  surface: { shape: 'sphere', point: CENTRE, radius, side },
  foot: (a, b) => {
    const ray = unit(plus(plus(AXIS, out(6 * a), 0.6 * b), AXIS, 0));
    const sign = side === 'outside' ? -1 : 1;
    return { at: plus(CENTRE, ray, sign * radius), light: ray };
  },
  way,
});
const tube = (ring: number, radius: number, side: 'outside' | 'inside', way: number): Laid => ({
  surface: { shape: 'torus', point: CENTRE, axis: AXIS, radius: ring, tube: radius, side },
  foot: (a, b) => {
    const radial = out(6 * a);
    const ray = unit(plus(AXIS, radial, 0.8 * b - 0.6));
    const sign = side === 'outside' ? -1 : 1;
    return { at: plus(plus(CENTRE, radial, ring), ray, sign * radius), light: ray };
  },
  way,
});
const cone = (halfAngle: number, side: 'outside' | 'inside', way: number): Laid => ({
  surface: { shape: 'cone', point: CENTRE, axis: AXIS, halfAngle, side },
  foot: (a, b) => {
    const radial = out(6 * a);
    const slant = 60 + 300 * b;
    const at = plus(plus(CENTRE, AXIS, slant * Math.cos(halfAngle)), radial, slant * Math.sin(halfAngle));
    const normal = plus(scaled(radial, Math.cos(halfAngle)), AXIS, -Math.sin(halfAngle));
    return { at, light: scaled(normal, side === 'outside' ? -1 : 1) };
  },
  way,
});
const plane: Laid = {
  surface: { shape: 'plane', point: CENTRE, normal: scaled(AXIS, -1) },
  foot: (a, b) => ({ at: plus(plus(CENTRE, ACROSS, 200 * a - 90), BESIDE, 180 * b - 80), light: AXIS }),
  way: 240,
};

const CASES: readonly (readonly [string, Laid])[] = [
  ['a plane', plane],
  ['a ball', ball(130, 'outside', 90)],
  ['a hollow', ball(500, 'inside', 300)],
  ['a bead', tube(35, 10, 'outside', 280)],
  ['a groove', tube(150, 149, 'inside', 27)],
  ['a cone', cone(1.4, 'outside', 200)],
  ['a funnel', cone(1.3, 'inside', 40)],
];

/** mm: of the run; rounding of places some hundreds of mm off is 1e-13. */
const SAME_RUN = 1e-11;
const PER_SIDE = 30;

describe('light that comes square on', () => {
  test.each(CASES)('meets %s everywhere, however the last digits fall', (_, { surface, foot, way }) => {
    for (let i = 0; i < PER_SIDE; i++)
      for (let j = 0; j < PER_SIDE; j++) {
        const { at, light } = foot((i + 0.37) / PER_SIDE, (j + 0.61) / PER_SIDE);
        const point = plus(at, light, -way);
        expect(inner(light, light)).toBeCloseTo(1, 12);
        const run = runToSurface(surface, { point, direction: light });
        expect(run, `${i} ${j}`).toBeDefined();
        expect(Math.abs(run! - way)).toBeLessThan(SAME_RUN);
      }
  });
});
