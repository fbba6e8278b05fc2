/**
 * Surfaces under test before a hologram: conics, even terms, off axis, tilted and shifted, glass on either side, orders ±1 and −2, diverging,
 * converging and collimated beams; each by its words and by its height as printed. mm.
 */
import type { Place } from '../../independent/fermat.ts';
import type { Vector } from '../../independent/ray.ts';
import { type Height, isoAsphere } from '../../independent/surface-sheets.ts';
import type { Words } from '../../metrology/support/design-from.ts';

export const GLASS = { thickness: 9.5, index: 1.457 };
type Side = 'part' | 'interferometer' | 'none';

export interface NullCase {
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

export const CASES: readonly NullCase[] = [
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
  {
    what: 'a ring of a torus',
    datum: { torus: { centre: [0, 0, 0], axis, diameter: 160, tube: 80, side: 'outside' } },
    height: (x, y) => -Math.sqrt(40 ** 2 - (Math.hypot(x, y) - 80) ** 2),
    aperture: { ring: { inner: 140, outer: 180 } },
    origin: [0, 0, 150],
    glass: 'interferometer',
    order: 1,
    focus: DIVERGING,
  },
  {
    what: 'a tilted plane, converging light through the glass',
    datum: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
    height: () => 0,
    aperture: disc(60),
    origin: [5, 3, 400],
    rotation: [2, -1, 0],
    glass: 'part',
    order: -1,
    focus: CONVERGING,
  },
];
