/**
 * The main pattern's phase against the surface's normals followed back from the surface by code of its own: conics, even terms, off axis,
 * tilted and shifted, glass on either side, orders ±1 and −2, diverging, converging and collimated beams. mm, waves.
 */
import { describe, expect, it } from 'vitest';
import { type Place, pathThroughEntry } from '../independent/fermat.ts';
import { dot, size, type Vector } from '../independent/ray.ts';
import { followedBack, type Height, isoAsphere, type Sheet } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

const WAVELENGTH = 632.8e-6;
/** Anywhere, waves. */
const BOUND = 2e-4;
/** Of a ray off the surface's normal, rad. */
const SQUARE = 1e-6;
const GLASS = { thickness: 9.5, index: 1.457 };
type Side = 'part' | 'interferometer' | 'none';

interface Case {
  readonly what: string;
  readonly datum: Words;
  readonly height: Height;
  /** In the part frame; a sphere's vertex is not its datum's own point. */
  readonly vertex?: Vector;
  readonly aperture: Words;
  readonly origin: Vector;
  readonly rotation?: Vector;
  readonly glass: Side;
  readonly order: number;
  readonly focus: Place | undefined;
}

const axis = [0, 0, 1];
const vertex = [0, 0, 0];
const asphere = (radius: number, conic: number, terms: Record<number, number> = {}) => ({
  datum: { asphere: { vertex, axis, radius, conic, terms } },
  height: isoAsphere(radius, conic, terms),
});
const disc = (diameter: number, centre = [0, 0]) => ({ circle: { diameter, centre } });
const DIVERGING: Place = [0, 0, -500];
const CONVERGING: Place = [10, -5, 900];

const CASES: readonly Case[] = [
  {
    what: 'a concave paraboloid',
    ...asphere(-2000, -1),
    aperture: disc(300),
    origin: [0, 0, 2600],
    glass: 'none',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'the same, glass before',
    ...asphere(-2000, -1),
    aperture: disc(300),
    origin: [0, 0, 2600],
    glass: 'part',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'the same, glass after',
    ...asphere(-2000, -1),
    aperture: disc(300),
    origin: [0, 0, 2600],
    glass: 'interferometer',
    order: -1,
    focus: DIVERGING,
  },
  {
    what: 'a hyperboloid, κ −2, collimated',
    ...asphere(-1500, -2),
    aperture: disc(240),
    origin: [5, 8, 2000],
    glass: 'interferometer',
    order: 1,
    focus: undefined,
  },
  {
    what: 'an oblate ellipsoid, κ 0.5, converging',
    ...asphere(-1200, 0.5),
    aperture: disc(200),
    origin: [0, 0, 1500],
    glass: 'none',
    order: -1,
    focus: CONVERGING,
  },
  {
    what: 'an ellipsoid, κ −0.4, order −2',
    ...asphere(-800, -0.4),
    aperture: disc(150),
    origin: [0, 0, 1000],
    glass: 'part',
    order: -2,
    focus: DIVERGING,
  },
  {
    what: 'a sphere as an asphere',
    ...asphere(-700, 0),
    aperture: disc(120),
    origin: [0, 0, 900],
    glass: 'interferometer',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'even terms to the tenth',
    ...asphere(-2000, -1, { 4: 2e-11, 6: -3e-16, 10: 2e-26 }),
    aperture: disc(280),
    origin: [0, 0, 2600],
    glass: 'interferometer',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'flat but for its terms',
    datum: { asphere: { vertex, axis, terms: { 2: -2.5e-4, 4: 1e-11 } } },
    height: (x, y) => -2.5e-4 * (x * x + y * y) + 1e-11 * (x * x + y * y) ** 2,
    aperture: disc(200),
    origin: [0, 0, 2500],
    glass: 'none',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'an off-axis paraboloid',
    ...asphere(-2000, -1),
    aperture: disc(160, [120, 60]),
    origin: [-60, -30, 2600],
    glass: 'interferometer',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'a tilted and shifted frame',
    ...asphere(-1800, -1.2, { 4: 1e-11 }),
    aperture: disc(200, [20, -10]),
    origin: [12, -7, 2400],
    rotation: [0.6, -0.4, 25],
    glass: 'interferometer',
    order: 1,
    focus: [3, 4, -500],
  },
  {
    what: 'a convex one',
    ...asphere(600, -0.7),
    aperture: disc(60),
    origin: [0, 0, 200],
    glass: 'part',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'a rectangle of it, off axis',
    ...asphere(-2000, -1),
    aperture: { rectangle: { width: 160, height: 90, rotation: 20, centre: [40, 90] } },
    origin: [0, -40, 2600],
    glass: 'interferometer',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'a convex sphere',
    datum: { sphere: { centre: [0, 0, 400], diameter: 800 } },
    height: isoAsphere(400, 0),
    aperture: disc(80),
    origin: [0, 0, 250],
    glass: 'interferometer',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'a hollow sphere',
    datum: { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } },
    height: isoAsphere(-800, 0),
    vertex: [0, 0, 800],
    aperture: disc(140),
    origin: [0, 0, 300],
    glass: 'none',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'a ring of a cone',
    datum: { cone: { apex: [0, 0, 0], axis, angle: 170, side: 'outside' } },
    height: (x, y) => Math.hypot(x, y) / Math.tan((85 * Math.PI) / 180),
    aperture: { ring: { inner: 60, outer: 100 } },
    origin: [0, 0, 150],
    glass: 'none',
    order: 1,
    focus: DIVERGING,
  },
];

/** Intrinsic turns about x, then the new y, then the new z, degrees. */
function placed(origin: Vector, [a, b, c]: Vector, at: Vector): (own: Vector) => Vector {
  const [ca, sa, cb, sb, cc, sc] = [a, b, c].flatMap((angle) => [
    Math.cos((angle * Math.PI) / 180),
    Math.sin((angle * Math.PI) / 180),
  ]) as [number, number, number, number, number, number];
  return (own) => {
    const v = [own[0] + at[0], own[1] + at[1], own[2] + at[2]] as const;
    const [x, y, z] = [v[0] * cc - v[1] * sc, v[0] * sc + v[1] * cc, v[2]];
    const [u, w] = [x * cb + z * sb, z * cb - x * sb];
    return [origin[0] + u, origin[1] + y * ca - w * sa, origin[2] + y * sa + w * ca];
  };
}

/** Points of the aperture, its edge among them, from its words. */
function pointsOf(aperture: Words): readonly (readonly [number, number])[] {
  const [[shape, words]] = Object.entries(aperture) as [[string, Record<string, unknown>]];
  const [cx, cy] = (words.centre ?? [0, 0]) as [number, number];
  const turn = 2.399963;
  return Array.from({ length: 40 }, (_, k) => {
    const part = (k + 1) / 40;
    if (shape === 'rectangle') {
      const { width, height, rotation } = words as { width: number; height: number; rotation: number };
      const [u, v] = [width * (part - 0.5), height * (((k * 0.618) % 1) - 0.5)];
      const [c, s] = [Math.cos((rotation * Math.PI) / 180), Math.sin((rotation * Math.PI) / 180)];
      return [cx + u * c - v * s, cy + u * s + v * c] as const;
    }
    const {
      inner = 0,
      outer,
      diameter = outer,
    } = words as { inner?: number; outer?: number; diameter?: number };
    const radius = Math.sqrt((inner / 2) ** 2 + part * ((diameter! / 2) ** 2 - (inner / 2) ** 2));
    return [cx + radius * Math.cos(k * turn), cy + radius * Math.sin(k * turn)] as const;
  });
}

const designOf = ({ datum, aperture, origin, rotation, glass, order, focus }: Case) =>
  designFrom({
    interferometer: focus === undefined ? { collimated: true } : { focus },
    substrate: {
      outline: { circle: { diameter: 400 } },
      ...(glass === 'none' ? { thickness: 0 } : { ...GLASS, patternFaces: glass }),
    },
    part: { origin, ...(rotation === undefined ? {} : { rotation }), datums: { M: datum } },
    test: { surface: 'M', aperture, order },
  });

const arriving = ({ focus, glass }: Case, x: number, y: number): number => {
  if (focus === undefined) return 0;
  const sign = focus[2] < 0 ? 1 : -1;
  return glass === 'part'
    ? pathThroughEntry(focus, sign, [x, y, 0], GLASS.thickness, GLASS.index)
    : sign * Math.hypot(x - focus[0], y - focus[1], focus[2]);
};

describe.each(CASES)('$what', (one) => {
  const { main, beam } = designOf(one);
  const sheet: Sheet = {
    height: one.height,
    toSubstrate: placed(one.origin, one.rotation ?? [0, 0, 0], one.vertex ?? [0, 0, 0]),
  };
  const after = one.glass === 'interferometer' ? GLASS : undefined;
  const followed = pointsOf(one.aperture).map(([x, y]) => followedBack(sheet, x, y, after));

  it('has the phase that its normals ask for, to 2e-4 waves', () => {
    const waves = followed.map(({ on: [x, y], path }) => {
      const asked = (-path - arriving(one, x, y)) / (one.order * WAVELENGTH);
      return main!.phase.phase(x, y) - asked;
    });
    const middle = (Math.max(...waves) + Math.min(...waves)) / 2;
    for (const difference of waves) expect(Math.abs(difference - middle)).toBeLessThan(BOUND);
  });

  it('sends each ray along the normal, to a microradian', () => {
    for (const { on, back } of followed) {
      const [gx, gy] = main!.phase.gradient(...on);
      const [x, y] = on;
      const h = 1e-2;
      const [ix, iy] = [
        (arriving(one, x + h, y) - arriving(one, x - h, y)) / (2 * h),
        (arriving(one, x, y + h) - arriving(one, x, y - h)) / (2 * h),
      ];
      const [px, py] = [ix + one.order * WAVELENGTH * gx, iy + one.order * WAVELENGTH * gy];
      const ray: Vector = [px, py, Math.sqrt(1 - px * px - py * py)];
      const sine = size([
        ray[1] * back[2] - ray[2] * back[1],
        ray[2] * back[0] - ray[0] * back[2],
        ray[0] * back[1] - ray[1] * back[0],
      ]);
      expect(dot(ray, back)).toBeLessThan(0);
      expect(sine).toBeLessThan(SQUARE);
    }
    expect(beam.cameraDiameter).toBeGreaterThan(0);
  });
});
