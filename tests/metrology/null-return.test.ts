/**
 * The main pattern's fringes with part or hologram out of place: against rays to the displaced surface and back by code that shares nothing
 * with src/, and through glass against −2h/λ from the surface's normals. Waves; a longer way is a positive W.
 */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { boundaryPoints } from '../../src/geometry/sampling.ts';
import { nullPicture } from '../../src/metrology/camera/fringe-picture.ts';
import {
  benchState,
  type Displacements,
  type RigidMotion,
} from '../../src/metrology/camera/fringe-picture-displacements.ts';
import { nullBranches } from '../../src/metrology/camera/null-return.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { type BeamChange, movedSheet, returnInBeam, turned } from '../independent/null-traced.ts';
import { type Height, isoAsphere, squareOn } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from './support/design-from.ts';

const WAVELENGTH = 632.8e-6;
/** Of any ray, waves: rays and polynomials; and to first order in the motion. */
const TRACED = 2e-3;
const FIRST_ORDER = 0.02;
const FOCUS = [3, -2, -500] as const;
const ORIGIN = [0, 0, 1040] as const;
const MM = 0.1;
const RAD = 1e-4;
/** A tilted hologram shows little. */
const TILT = 5e-3;

interface Case {
  readonly what: string;
  readonly datum: Words;
  readonly height: Height;
  readonly centre: readonly [number, number];
  readonly vertex?: readonly [number, number, number];
}
const asphere = (conic: number, terms: Record<number, number> = {}, vertex = [0, 0, 0]) => ({
  datum: { asphere: { vertex, axis: [0, 0, 1], radius: -800, conic, terms } },
  height: isoAsphere(-800, conic, terms),
});
const CASES: readonly Case[] = [
  { what: 'an ellipsoid about its axis', ...asphere(-0.6, { 4: 3e-12 }), centre: [0, 0] },
  {
    what: 'an off-axis paraboloid, its vertex off the origin',
    ...asphere(-1, {}, [4, -3, 6]),
    centre: [50, 20],
    vertex: [4, -3, 6],
  },
];

const designOf = ({ datum, centre }: Case, changes: Words = {}): Design =>
  designFrom({
    interferometer: { focus: FOCUS, pixelsAcrossBeam: 1000, readable: 0.1 },
    substrate: { outline: { circle: { diameter: 300 } }, thickness: 0 },
    part: { origin: ORIGIN, datums: { M: datum } },
    test: { surface: 'M', aperture: { circle: { diameter: 100, centre } } },
    ...changes,
  });

/** Of the aperture, in the surface's own x and y. */
const onAperture = ([cx, cy]: readonly [number, number]): readonly (readonly [number, number])[] =>
  [0, 20, 38, 49.5].flatMap((radius) =>
    Array.from({ length: radius === 0 ? 1 : 8 }, (_, k) => {
      const angle = (k * Math.PI) / 4 + radius;
      return [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)] as const;
    }),
  );

const motionOf = (six: readonly number[]): RigidMotion => ({
  translation: six.slice(0, 3) as never,
  rotation: six.slice(3) as never,
});
const unit = (k: number, by: number): number[] => Array.from({ length: 6 }, (_, i) => (i === k ? by : 0));

/** W along the branch less W of the second way, at the places that light comes back to: apart from a piston. */
function largestDifference(
  design: Design,
  at: Displacements,
  rays: readonly { readonly on: readonly [number, number]; readonly longer: number }[],
): { readonly apart: number; readonly range: number } {
  const [branch] = nullBranches(design, design.main!, benchState(design, at));
  const found = rays.map(({ on }) => branch!.waves.at(...on));
  const apart = found.map((waves, k) => waves - rays[k]!.longer / WAVELENGTH);
  const middle = apart.reduce((sum, each) => sum + each, 0) / apart.length;
  return {
    apart: Math.max(...apart.map((each) => Math.abs(each - middle))),
    range: Math.max(...found) - Math.min(...found),
  };
}

const still: BeamChange = () => ({ path: 0, gradient: [0, 0] });
const DEGREES = ['x', 'y', 'z', 'rx', 'ry', 'rz'].map((degree, k) => [degree, k] as const);

describe.each(CASES)('the null of $what', (scene) => {
  const design = designOf(scene);
  const { height, vertex = [0, 0, 0], centre } = scene;
  const standing = { height, vertex, origin: ORIGIN };
  const places = onAperture(centre);

  it('shows nothing in place', () => {
    const rays = places.map(([x, y]) => returnInBeam(standing, unit(0, 0), still, x, y));
    const { apart, range } = largestDifference(design, {}, rays);
    expect(apart).toBeLessThan(TRACED);
    expect(range).toBeLessThan(1e-5);
    const { grey } = nullPicture(design, design.main!, {
      size: 40,
      orientation: { ...PLAIN_ORIENTATION, view: 'part' },
    });
    expect(new Set(grey)).toEqual(new Set([0, 255]));
  });

  it.each(DEGREES)(
    'shows a move of the part along %s as a trace to the surface where it stands then',
    (_, k) => {
      const six = unit(k, k < 3 ? MM : RAD);
      const rays = places.map(([x, y]) => returnInBeam(standing, six, still, x, y));
      const { apart, range } = largestDifference(design, { part: motionOf(six) }, rays);
      // About the surface's own axis nothing is to be seen.
      const seen = scene.centre[0] !== 0 || k !== 5;
      expect(range > 0.1).toBe(seen);
      expect(apart).toBeLessThan(TRACED);
    },
  );

  it.each(DEGREES)('shows a move of the hologram along %s as beam and part moved the other way', (_, k) => {
    const by = k < 3 ? MM : TILT;
    const back = unit(k, -by);
    const turn = back.slice(3);
    const shift = turned(ORIGIN as never, turn).map((each, i) => each - ORIGIN[i]! + back[i]!);
    const focus = turned(FOCUS as never, turn).map((each, i) => each + back[i]!);
    const pathFrom = (from: readonly number[], x: number, y: number) => {
      const [u, v] = [x - from[0]!, y - from[1]!];
      const path = Math.hypot(u, v, from[2]!);
      return { path, gradient: [u / path, v / path] as const };
    };
    const change: BeamChange = (x, y) => {
      const [now, then] = [pathFrom(focus, x, y), pathFrom(FOCUS, x, y)];
      const gradient = [now.gradient[0] - then.gradient[0], now.gradient[1] - then.gradient[1]] as const;
      return { path: now.path - then.path, gradient };
    };
    const rays = places.map(([x, y]) => returnInBeam(standing, [...shift, ...turn], change, x, y));
    const { apart, range } = largestDifference(design, { hologram: motionOf(unit(k, by)) }, rays);
    expect(range).toBeGreaterThan(k === 5 && scene.centre[0] === 0 ? 1e-6 : 0.1);
    expect(apart).toBeLessThan(TRACED);
  });

  it.each(['part', 'interferometer'] as const)(
    'shows 2h/λ less way where the part comes nearer, its glass toward the %s',
    (patternFaces) => {
      const glassy = designOf(scene, {
        substrate: {
          outline: { circle: { diameter: 300 } },
          thickness: 6.35,
          glass: 'fused silica',
          patternFaces,
        },
      });
      const sheet = movedSheet(standing, unit(0, 0));
      for (const [k, by] of [
        [0, 0.005],
        [2, 0.02],
        [4, 1e-5],
      ] as const) {
        const six = unit(k, by);
        const rays = places.map(([x, y]) => {
          const { at, back } = squareOn(sheet, x, y);
          const lever = [at[0] - ORIGIN[0], at[1] - ORIGIN[1], at[2] - ORIGIN[2]] as const;
          const h =
            k < 3 ? by * (back as readonly number[])[k]! : by * (lever[2] * back[0] - lever[0] * back[2]);
          return { on: glassy.main!.normals.from(x, y)!.at, longer: -2 * h };
        });
        const { apart, range } = largestDifference(glassy, { part: motionOf(six) }, rays);
        expect(range).toBeGreaterThan(0.05);
        expect(apart).toBeLessThan(FIRST_ORDER);
      }
    },
  );
});

/** Any kind of surface: what W ranges over in place, and for a move along the light by 10 µm. */
const SHAPES: readonly (readonly [string, Words, Words, number])[] = [
  ['a convex sphere', { sphere: { centre: [0, 0, 400], diameter: 800 } }, { circle: { diameter: 80 } }, 250],
  [
    'a hollow sphere',
    { sphere: { centre: [0, 0, 0], diameter: 600, side: 'inside' } },
    { circle: { diameter: 80 } },
    200,
  ],
  ['a plane', { plane: { point: [0, 0, 0], normal: [0, 0.02, -1] } }, { circle: { diameter: 60 } }, 300],
  [
    'a cone',
    { cone: { apex: [0, 0, -20], axis: [0, 0, 1], angle: '170 deg' } },
    { ring: { inner: 40, outer: 90 } },
    300,
  ],
  [
    'a torus',
    { torus: { centre: [0, 0, 0], axis: [0, 0, 1], diameter: 200, tube: 150 } },
    { ring: { inner: 190, outer: 215 } },
    400,
  ],
];

it.each(SHAPES)(
  'the null of %s shows nothing in place, and 2h/λ for a move along the light',
  (_, M, aperture, z) => {
    const design = designFrom({
      substrate: { outline: { circle: { diameter: 300 } }, thickness: 6.35, glass: 'fused silica' },
      part: { origin: [0, 0, z], datums: { M } },
      test: { surface: 'M', aperture },
    });
    const main = design.main!;
    const { xs, ys } = boundaryPoints(main.test.aperture, 24);
    const places = Array.from(xs, (x, k) => main.normals.from(x, ys[k]!)!);
    const by = 0.01;
    for (const move of [0, by]) {
      const rays = places.map(({ at, normal }) => ({ on: at, longer: -2 * move * normal[2] }));
      const { apart } = largestDifference(design, { part: motionOf(unit(2, move)) }, rays);
      expect(apart).toBeLessThan(move === 0 ? TRACED : FIRST_ORDER);
    }
  },
);
