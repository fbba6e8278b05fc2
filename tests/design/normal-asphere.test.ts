/**
 * Rings of light square on to a zone of an asphere or a freeform: their phase against the surface's normals followed back, and what they read of
 * the part's motion against rays traced to the surface moved in earnest, both by code of its own. mm, waves, radians.
 */
import { describe, expect, it, test } from 'vitest';
import { fitPhase } from '../../src/design/phase-fit.ts';
import { dot, type Vec3 } from '../../src/geometry/vector.ts';
import { normalIncidenceWaves } from '../../src/metrology/rings/normal-incidence-fringes.ts';
import { fresnelNumberOf } from '../../src/metrology/sensing/fresnel.ts';
import { normalIncidenceModes } from '../../src/metrology/sensing/normal-incidence-modes.ts';
import { fringesAtNull } from '../../src/metrology/sensing/null-fringes.ts';
import { coordinatesAt, displacedWavefront, movedSheet } from '../independent/null-traced.ts';
import { followedBack, type Height, isoAsphere } from '../independent/surface-sheets.ts';
import { zernike } from '../independent/zernike.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

const WAVELENGTH = 632.8e-6;
/** Anywhere, waves. */
const BOUND = 2e-4;
const FOCUS = [0, 0, -500] as const;
const GLASS = { thickness: 9.5, index: 1.457 };

interface Case {
  readonly what: string;
  readonly origin: readonly [number, number, number];
  readonly words: Words;
  readonly height: Height;
  /** On the pattern: centre, inner and outer diameter. */
  readonly ring: readonly [readonly [number, number], number, number];
  /** On the surface: the middle of the zone, and the radii that the ring may show. */
  readonly zone: readonly [readonly [number, number], number, number];
  readonly glass?: true;
  /** Aperture of a test of this very surface. */
  readonly tested?: Words;
}

const paraboloid = isoAsphere(-2000, -1);
const CASES: readonly Case[] = [
  {
    what: 'a concave paraboloid from beyond its centre of curvature',
    origin: [3, -2, 2600],
    words: { radius: -2000, conic: -1 },
    height: paraboloid,
    ring: [[3, -2], 74, 80],
    zone: [[0, 0], 110, 150],
  },
  {
    what: 'a convex asphere with even terms, glass after',
    origin: [-4, 5, 300],
    words: { radius: 400, conic: 0.5, terms: { 4: 2e-9, 6: -1e-14 } },
    height: isoAsphere(400, 0.5, { 4: 2e-9, 6: -1e-14 }),
    ring: [[-4, 5], 110, 118],
    zone: [[0, 0], 20, 50],
    glass: true,
  },
  {
    what: 'a concave sphere with Zernike terms, around its aperture',
    origin: [0, 0, 400],
    words: { radius: -1500, zernike: { radius: 100, terms: { 5: '3 um', '3,-1': '-2 um' } } },
    height: (x, y) =>
      isoAsphere(-1500, 0)(x, y) +
      3e-3 * zernike(2, 2, x / 100, y / 100) -
      2e-3 * zernike(3, -1, x / 100, y / 100),
    ring: [[0, 0], 120, 126],
    zone: [[0, 0], 70, 100],
    tested: { circle: { diameter: 140 } },
  },
  {
    what: 'an off-axis section with powers of x and y, glass after',
    origin: [90, 0, 500],
    words: { radius: -1600, conic: -1, xy: { '2,1': 2e-8, '0,4': -3e-10 } },
    height: (x, y) => isoAsphere(-1600, -1)(x, y) + 2e-8 * x * x * y - 3e-10 * y ** 4,
    ring: [[33, 0], 60, 68],
    zone: [[-85, 0], 30, 70],
    glass: true,
    tested: { circle: { diameter: 60, centre: [-85, 0] } },
  },
];

const designOf = ({ origin, words, ring, glass, tested }: Case, csv = '') =>
  designFrom(
    {
      substrate: {
        outline: { circle: { diameter: 400 } },
        ...(glass ? { ...GLASS, patternFaces: 'interferometer' } : { thickness: 0 }),
      },
      part: { origin, datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], ...words } } } },
      references: [{ id: 'M', kind: 'datum', datum: 'M' }],
      patches: [
        {
          id: 'zone',
          reference: 'M',
          focus: 'normal',
          centre: ring[0],
          outline: { ring: { inner: ring[1], outer: ring[2] } },
        },
      ],
      ...(tested ? { test: { surface: 'M', aperture: tested } } : {}),
    },
    () => new TextEncoder().encode(csv),
  );

const sheetOf = ({ height, origin }: Case) =>
  movedSheet({ height, vertex: [0, 0, 0], origin }, [0, 0, 0, 0, 0, 0]);

const arriving = (x: number, y: number): number => Math.hypot(x - FOCUS[0], y - FOCUS[1], FOCUS[2]);

/** Normals of the zone that come back through the ring. */
function normalsThrough(one: Case) {
  const [[u, v], least, most] = one.zone;
  const [[cx, cy], inner, outer] = one.ring;
  return Array.from({ length: 3000 }, (_, k) => {
    const radius = least + (most - least) * ((k * 0.618034) % 1);
    const [x, y] = [u + radius * Math.cos(2.399963 * k), v + radius * Math.sin(2.399963 * k)];
    return { x, y, ...followedBack(sheetOf(one), x, y, one.glass ? GLASS : undefined) };
  }).filter(({ on }) => {
    const away = Math.hypot(on[0] - cx, on[1] - cy);
    return away > inner / 2 && away < outer / 2;
  });
}

/** Phase designed less phase asked for, its middle taken out. */
function errors(one: Case, height = one.height): readonly number[] {
  const [patch] = designOf(one).patches;
  const waves = normalsThrough(one).map(({ x, y }) => {
    const { on, path } = followedBack(sheetOf({ ...one, height }), x, y, one.glass ? GLASS : undefined);
    return patch!.phase.phase(...on) - (-path - arriving(...on)) / WAVELENGTH;
  });
  expect(waves.length).toBeGreaterThan(50);
  const middle = (Math.max(...waves) + Math.min(...waves)) / 2;
  return waves.map((wave) => wave - middle);
}

describe.each(CASES)('$what', (one) => {
  it('is met square on: the ring has the phase that the normals ask for, to 2e-4 waves', () => {
    expect(Math.max(...errors(one).map(Math.abs))).toBeLessThan(BOUND);
  });

  it('would be off by far more were the surface a sphere of its vertex’s radius', () => {
    const radius = one.words.radius as number;
    const sphere = isoAsphere(radius, 0);
    expect(Math.max(...errors(one, sphere).map(Math.abs))).toBeGreaterThan(0.05);
  });

  it('shows no fringes by the program’s own trace, has a Fresnel number, and is fitted', () => {
    const design = designOf(one);
    const patch = design.patches[0]!;
    expect(fringesAtNull(design, patch)).toBeCloseTo(0, 5);
    expect(fresnelNumberOf(design, patch)?.number).toBeGreaterThan(0);
    expect(fitPhase(patch).residual.worst).toBeLessThan(1e-3);
  });
});

const MOTIONS = [
  ['x', [2e-4, 0, 0, 0, 0, 0]],
  ['y', [0, 2e-4, 0, 0, 0, 0]],
  ['z', [0, 0, 2e-4, 0, 0, 0]],
  ['rx', [0, 0, 0, 1e-6, 0, 0]],
  ['ry', [0, 0, 0, 0, 1e-6, 0]],
  ['rz', [0, 0, 0, 0, 0, 1e-6]],
] as const;

describe.each(CASES.filter(({ glass }) => !glass))('what a ring reads of $what', (one) => {
  const design = designOf(one);
  const { modes, xs, ys } = normalIncidenceModes(design, design.patches[0]!);
  const places = Array.from(xs, (x, k) => [x, ys[k]!] as const);
  // From the pattern to the surface about in proportion: the guess that Newton needs.
  const [[u, v], least, most] = one.zone;
  const [[cx, cy], inner, outer] = one.ring;
  const through = followedBack(sheetOf(one), u + (least + most) / 2, v, undefined).on;
  const scale = Math.sign(through[0] - cx) * ((least + most) / (inner + outer));
  const feet = places.map((place) =>
    coordinatesAt(sheetOf(one), place, u + scale * (place[0] - cx), v + scale * (place[1] - cy)),
  );

  it.each(MOTIONS)('agrees with the traced ray for a motion in %s, within 1 %%', (_degree, motion) => {
    const standing = { height: one.height, vertex: [0, 0, 0], origin: one.origin } as const;
    const traced = feet.map(([x, y]) => displacedWavefront(standing, motion, x, y) / WAVELENGTH);
    const mean = traced.reduce((sum, wave) => sum + wave, 0) / traced.length;
    // Part frame and vertex are one here: T and θ are those of the feature's own point.
    const [move, turn] = [motion.slice(0, 3), motion.slice(3)] as unknown as [Vec3, Vec3];
    const read = places.map((_, i) =>
      modes.reduce((sum, { force, moment, picture }) => {
        return sum + (2 * (dot(force, move) + dot(moment, turn)) * picture[i]!) / WAVELENGTH;
      }, 0),
    );
    const size = Math.max(...traced.map((wave) => Math.abs(wave - mean)));
    const worst = Math.max(...read.map((wave, i) => Math.abs(wave - (traced[i]! - mean))));
    // And by the program's own trace to the surface moved in earnest.
    const waves = normalIncidenceWaves(design, design.patches[0]!, move, turn);
    const middle = waves.reduce((sum, wave) => sum + wave, 0) / waves.length;
    const off = Math.max(...waves.map((wave, i) => Math.abs(wave - middle - (traced[i]! - mean))));
    expect(off).toBeLessThan(0.01 * size + 1e-4);
    // A thousandth of a fringe is no reading: modes too faint to be read are left out.
    expect(worst).toBeLessThan(0.01 * size + 1e-4);
  });
});

test('a ring on a sphere written as an asphere reads as the sphere does', () => {
  const shared: Omit<Case, 'words'> = { ...CASES[2]!, tested: undefined } as never;
  const asAsphere = designOf({ ...shared, words: { radius: -1500 } } as Case);
  const sphere = designFrom({
    substrate: { outline: { circle: { diameter: 400 } }, thickness: 0 },
    part: {
      origin: [0, 0, 400],
      datums: { M: { sphere: { centre: [0, 0, -1500], diameter: 3000, side: 'inside' } } },
    },
    references: [{ id: 'M', kind: 'datum', datum: 'M' }],
    patches: asAsphere.patches.map(({ asked }) => ({
      id: asked.id,
      reference: 'M',
      focus: 'normal',
      centre: [0, 0],
      outline: { ring: { inner: 120, outer: 126 } },
    })),
  });
  const [a, b] = [asAsphere, sphere].map((design) => {
    const patch = design.patches[0]!;
    return {
      phase: patch.phase.phase(40, -46) - patch.phase.phase(62, 0),
      fresnel: fresnelNumberOf(design, patch)!.number,
      seen: normalIncidenceModes(design, patch).modes.map(({ resolution }) => resolution),
    };
  });
  expect(a!.phase).toBeCloseTo(b!.phase, 5);
  expect(a!.fresnel / b!.fresnel).toBeCloseTo(1, 9);
});

test.each([
  ['behind the pattern', { ...CASES[1]!, origin: [-4, 5, -300] as const }, false],
  ['that ends with its grid before the ring', CASES[1]!, true],
])('a ring on a surface %s is refused', (_what, one, ends) => {
  // Nodes 2 mm apart on a square of 40 mm: the ring shows the zone some 31 mm from the vertex.
  const nodes = Array.from(
    { length: 21 * 21 },
    (_, k) => `${2 * (k % 21) - 20},${2 * Math.floor(k / 21) - 20},0`,
  );
  const words = !ends ? one.words : { ...one.words, grid: { file: 'flat.csv', spacing: 2 } };
  expect(() => designOf({ ...one, words }, ['x_mm,y_mm,z_mm', ...nodes].join('\n'))).toThrow(
    /does not meet datum M at normal incidence/,
  );
});
