/**
 * How far off a patch still answers: by the light that comes back, against shares of rays traced independently
 * (tests/independent/returned-ray.ts), and by how close fringes may be. mm, radians. Cameras of 20000 pixels leave it to the light.
 */
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.ts';
import { motionRanges } from '../../src/metrology/rings/motion-range.ts';
import {
  MOST_COUNTABLE_PER_PIXEL,
  MOST_FRINGES_PER_PIXEL,
} from '../../src/metrology/sensing/camera-pixels.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import {
  type Bounce,
  offBall,
  offCube,
  offPlane,
  type Pattern,
  returned,
} from '../independent/returned-ray.ts';
import { designFrom, linePatch, pointPatch, type Words } from './support/design-from.ts';

const WAVELENGTH = 632.8e-6;
const camera = (pixelsAcrossBeam: number): Words => {
  return { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam, readable: 0.1 };
};
const FINE = camera(20_000);
/** Diameter of the beam on the pattern. */
const BEAM = 500 / 3.2;

/** Of an even sequence in the plane, no two in line: 1/g and 1/g² with g³ = g + 1 (M. Roberts's R₂, from memory). */
const SPREAD = [0.7548776662466927, 0.5698402909980532] as const;
const POINTS = 3600;

type Inside = (x: number, y: number) => boolean;

/** The share of a patch's rays that comes back into it, of points spread over the square `size` wide about `centre`. */
function shareBack(
  pattern: Pattern,
  bounce: Bounce,
  inside: Inside,
  centre: readonly [number, number],
  size: number,
): number {
  let [sent, back] = [0, 0];
  for (let k = 0; k < POINTS; k++) {
    const x = centre[0] + (((k * SPREAD[0]) % 1) - 0.5) * size;
    const y = centre[1] + (((k * SPREAD[1]) % 1) - 0.5) * size;
    if (!inside(x, y)) continue;
    sent++;
    const home = returned(pattern, bounce, x, y);
    if (home !== undefined && inside(home.x, home.y)) back++;
  }
  return back / sent;
}

/** The least amount, either way, at which the share falls under a quarter. */
function quarterAt(most: number, share: (amount: number) => number): number {
  let [near, far] = [0, most];
  expect(Math.min(share(far), share(-far))).toBeLessThan(0.25);
  for (let step = 0; step < 9; step++) {
    const middle = (near + far) / 2;
    if (Math.min(share(middle), share(-middle)) < 0.25) far = middle;
    else near = middle;
  }
  return (near + far) / 2;
}

const plus = (a: Vec3, b: Vec3, times: number): Vec3 => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];
const pathTo = ([x, y, z]: Vec3, px: number, py: number): number => Math.hypot(px - x, py - y, z);

/** The pattern's own phase, with no beam: the wave −path to the target; of a line along y, by its distance. */
const toPoint = (at: Vec3): Pattern => ({
  wavelength: WAVELENGTH,
  order: 1,
  incident: () => 0,
  phase: (x, y) => -pathTo(at, x, y) / WAVELENGTH,
});
const toUprightLine = ([ax, , az]: Vec3): Pattern => ({
  ...toPoint([0, 0, 0]),
  phase: (x) => -Math.hypot(x - ax, az) / WAVELENGTH,
});

interface Case {
  readonly reference: Words;
  readonly at: Vec3;
  readonly patch: Words;
  readonly inside: Inside;
  readonly centre?: readonly [number, number];
  readonly size: number;
  readonly known?: readonly [sense: number, range: number];
}
const round = (radius: number, [cx, cy]: readonly [number, number] = [0, 0]): Inside => {
  return (x, y) => Math.hypot(x - cx, y - cy) <= radius;
};
const CASES: readonly (readonly [string, Case])[] = [
  [
    'a half-inch ball at 198 mm, 10 mm round',
    {
      reference: { kind: 'ball', diameter: 12.7 },
      at: [0, 0, 198],
      patch: pointPatch('p', 'r', [0, 0], 10),
      inside: round(5),
      size: 10,
      known: [0, 0.109],
    },
  ],
  [
    'a one-inch ball at 120 mm, 12 × 8 mm',
    {
      reference: { kind: 'ball', diameter: 25.4 },
      at: [0, 0, 120],
      patch: { ...pointPatch('p', 'r', [0, 0]), outline: { rectangle: { width: 12, height: 8 } } },
      inside: (x, y) => Math.abs(x) <= 6 && Math.abs(y) <= 4,
      size: 12,
      known: [1, 0.331],
    },
  ],
  [
    'a cube at 2.9 m, 10 × 10 mm',
    {
      reference: { kind: 'smr', diameter: 38.1 },
      at: [0, 0, 2900],
      patch: linePatch('p', 'r', [0, 0], 90, 10),
      inside: (x, y) => Math.abs(x) <= 5 && Math.abs(y) <= 5,
      size: 10,
      known: [0, 3.6],
    },
  ],
  [
    'a ball seen aslant',
    {
      reference: { kind: 'ball', diameter: 12.7 },
      at: [40, 90, 150],
      patch: pointPatch('p', 'r', [10, 40], 12),
      inside: round(6, [10, 40]),
      centre: [10, 40],
      size: 12,
    },
  ],
];
/** Of the check values: traced on benches whose slant and bias they do not state, which change them by this much. */
const BENCH = 0.08;
/** Of the range: 256 rays in the one, 3600 points in the other, and what a cube's edges take. */
const RAYS = 0.03;

const sensesIn = ({ reference, at, patch }: Case) => {
  const design = designFrom({
    interferometer: FINE,
    references: [{ id: 'r', at, ...reference }],
    patches: [patch],
  });
  return sensesOf(design, design.patches[0]!);
};

it.each(CASES)(
  '%s answers as far off as a quarter of the light comes back, across the light and along it',
  (_, scene) => {
    const { reference, at, inside, centre = [0, 0], size } = scene;
    const isCube = reference.kind === 'smr';
    const pattern = isCube ? toUprightLine(at) : toPoint(at);
    for (const { direction, captureRange } of sensesIn(scene)) {
      const traced = quarterAt(2.1 * captureRange, (amount) => {
        const place = plus(at, direction, amount);
        const bounce = isCube ? offCube(place) : offBall(place, (reference.diameter as number) / 2);
        return shareBack(pattern, bounce, inside, centre, size);
      });
      expect(Math.abs(captureRange / traced - 1)).toBeLessThan(RAYS);
    }
  },
);

it.each(CASES.filter(([, { known }]) => known !== undefined))(
  '%s answers as far off as is known of it',
  (_, scene) => {
    const [sense, range] = scene.known!;
    expect(Math.abs(sensesIn(scene)[sense]!.captureRange / range - 1)).toBeLessThan(BENCH);
  },
);

describe('with a camera of few pixels', () => {
  const PIXELS = 250;
  const pitch = BEAM / PIXELS;
  const design = designFrom({
    interferometer: camera(PIXELS),
    references: [{ id: 'r', kind: 'ball', diameter: 25.4, at: [0, 0, 120] }],
    patches: [pointPatch('p', 'r', [0, 0], 10)],
  });

  it.each([
    [MOST_FRINGES_PER_PIXEL, 'captureRange'],
    [MOST_COUNTABLE_PER_PIXEL, 'readableRange'],
  ] as const)(
    'fringes come to %f a pixel at the end of the %s, across the light and along it',
    (perPixel, range) => {
      const senses = sensesOf(design, design.patches[0]!);
      expect(senses.map(({ kind }) => kind)).toEqual(['tilt', 'tilt', 'power']);
      for (const sense of senses) {
        // The path to the place that the light seems to come from, twice the move away, at the edge of the patch: per mm along x and y.
        const seen = plus([0, 0, 120], sense.direction, 2 * sense[range]);
        const [x, y] = sense.kind === 'power' ? [5, 0] : [0, 0];
        const waves = (px: number, py: number): number =>
          (pathTo(seen, px, py) - pathTo([0, 0, 120], px, py)) / WAVELENGTH;
        const step = 1e-3;
        const slope = Math.hypot(
          (waves(x + step, y) - waves(x - step, y)) / (2 * step),
          (waves(x, y + step) - waves(x, y - step)) / (2 * step),
        );
        // The exact path bends by a few per cent over a move of a millimetre along the light.
        expect(Math.abs((slope * pitch) / perPixel - 1)).toBeLessThan(0.05);
      }
    },
  );
});

it('fringes that an eye can count keep their brightness from one to the next, at 0.8 of the camera’s limit they do not', () => {
  /** The least that the brightest pixel of a fringe has of the fringe's amplitude, over many fringes. */
  const dimmest = (perPixel: number): number => {
    const brightest = new Map<number, number>();
    for (let pixel = 0; pixel < 5000; pixel++) {
      // Not quite a whole number of pixels to so many fringes: the picture drifts through all that there is.
      const turns = pixel * perPixel * 1.0007;
      const fringe = Math.round(turns);
      brightest.set(fringe, Math.max(brightest.get(fringe) ?? -1, Math.cos(2 * Math.PI * turns)));
    }
    return Math.min(...brightest.values());
  };
  expect(dimmest(MOST_COUNTABLE_PER_PIXEL)).toBeCloseTo(Math.cos(Math.PI / 5), 1);
  expect(dimmest(0.8 * MOST_FRINGES_PER_PIXEL)).toBeLessThan(0.4);
});

describe('rings', () => {
  const L = 300;
  const outline = { ring: { inner: 120, outer: 126 } };
  const inside: Inside = (x, y) => Math.hypot(x, y) >= 60 && Math.hypot(x, y) <= 63;
  const rings = (pixels: number) => {
    const design = designFrom({
      interferometer: camera(pixels),
      part: {
        origin: [0, 0, L],
        datums: {
          P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
          S: { sphere: { centre: [0, 0, 200], diameter: 160 } },
        },
      },
      references: [
        { id: 'back', kind: 'return' },
        { id: 'plane', kind: 'datum', datum: 'P' },
        { id: 'ball', kind: 'datum', datum: 'S' },
      ],
      patches: ['back', 'plane', 'ball'].map((id) => {
        return { id, reference: id, focus: id === 'back' ? 'return' : 'normal', centre: [0, 0], outline };
      }),
    });
    return design.patches.map((patch) => motionRanges(design, patch)!);
  };

  it('on a plane: by light where the camera is fine, as tilted independently', () => {
    const [, plane] = rings(20_000);
    const straight: Pattern = { wavelength: WAVELENGTH, order: 1, incident: () => 0, phase: () => 0 };
    const traced = quarterAt(0.02, (turn) =>
      shareBack(straight, offPlane([0, 0, L], [0, Math.sin(turn), -Math.cos(turn)]), inside, [0, 0], 126),
    );
    // A narrow ring, on which some 250 of the points lie.
    expect(Math.abs(plane!.capture.rx! / traced - 1)).toBeLessThan(0.08);
    expect(plane!.capture.ry).toBeCloseTo(plane!.capture.rx!, 3);
    for (const degree of ['x', 'y', 'z', 'rz'] as const) expect(plane!.capture[degree]).toBeUndefined();
  });

  it('on a sphere: decentre by light, as moved independently', () => {
    const [, , ball] = rings(20_000);
    const centre: Vec3 = [0, 0, L + 200];
    const traced = quarterAt(4, (move) =>
      shareBack(toPoint(centre), offBall([move, 0, centre[2]], 80), inside, [0, 0], 126),
    );
    expect(Math.abs(ball!.capture.x! / traced - 1)).toBeLessThan(0.08);
  });

  it('by pixels where there are few: a tilt θ shows 2θ/λ a mm, a decentre T of the hologram in a beam focused at F 2T/(λF)', () => {
    const [back, plane] = rings(1000);
    for (const [range, perPixel] of [
      ['capture', MOST_FRINGES_PER_PIXEL],
      ['readable', MOST_COUNTABLE_PER_PIXEL],
    ] as const) {
      const tilt = ((perPixel / (BEAM / 1000)) * WAVELENGTH) / 2;
      expect(plane![range].rx! / tilt).toBeCloseTo(1, 2);
      // Off the axis the beam's slant, 63 mm at 500 mm, takes off its cube's part.
      for (const degree of ['rx', 'ry'] as const)
        expect(Math.abs(back![range][degree]! / tilt - 1)).toBeLessThan(0.05);
      for (const degree of ['x', 'y'] as const)
        expect(Math.abs(back![range][degree]! / (tilt * 500) - 1)).toBeLessThan(0.05);
      expect(back![range].rz).toBeUndefined();
    }
  });
});
