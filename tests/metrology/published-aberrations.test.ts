/**
 * The null against figures of the textbooks: where a paraboloid's normals meet its axis, exactly; the spherical aberration of a conic seen
 * from its centre of curvature and the coma of a decentred one, to the third order, so that what is missing falls with the square
 * of the aperture; a sphere's null, which is a point focus. D. Malacara (ed.), *Optical Shop Testing*, on testing of aspheres from the
 * centre of curvature and null tests; W. T. Welford, *Aberrations of Optical Systems*, on aspheric and decentred surfaces; both from
 * memory. Surfaces by their own x and y, mm; waves.
 */
import { describe, expect, it } from 'vitest';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { pathThroughExit } from '../independent/fermat.ts';
import { minus, size } from '../independent/ray.ts';
import { followedBack, isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom, pointPatch, type Words } from './support/design-from.ts';

const WAVELENGTH = 632.8e-6;
/** Concave to the light, its centre of curvature between the pattern and it. */
const [RADIUS, VERTEX] = [-1000, 1500];
const axis = [0, 0, 1];
const conicOf = (conic: number): Words => ({
  asphere: { vertex: [0, 0, 0], axis, radius: RADIUS, conic },
});

const nullOf = (datum: Words, [x, y] = [0, 0], diameter = 300, words: Words = {}) =>
  designFrom({
    interferometer: { collimated: true },
    substrate: { outline: { circle: { diameter: 400 } }, thickness: 0 },
    part: { origin: [x, y, VERTEX], datums: { M: datum } },
    test: { surface: 'M', aperture: { circle: { diameter } }, order: 1 },
    ...words,
  });
/** In collimated light without glass: the path from the pattern to the surface, less that of the middle, mm. */
const pathOf = (datum: Words, decentre?: [number, number]): ((x: number, y: number) => number) => {
  const { phase } = nullOf(datum, decentre).main!;
  return (x, y) => -WAVELENGTH * (phase.phase(x, y) - phase.phase(0, 0));
};

/** Ratios of what is found to the third-order figure, for apertures each half the one before: what is missing falls by 4 each time. */
function convergesTo1(ratios: readonly number[]): void {
  const missing = ratios.map((ratio) => ratio - 1);
  expect(Math.abs(missing.at(-1)!)).toBeLessThan(0.01);
  missing.slice(1).forEach((error, k) => {
    expect(missing[k]! / error).toBeGreaterThan(3.5);
    expect(missing[k]! / error).toBeLessThan(4.5);
  });
}
const APERTURES = [120, 60, 30];
const CONICS = [-2, -1, -0.5, 0.5].map((conic) => ({ conic }));

it('normals of a paraboloid meet its axis at R + h²/(2R) from the vertex', () => {
  const { phase } = nullOf(conicOf(-1)).main!;
  const sheet = isoAsphere(RADIUS, -1);
  for (const x of [5, 20, 40, 70]) {
    const step = 0.02;
    const slope = (phase.phase(x + step, 0) - phase.phase(x - step, 0)) / (2 * step);
    const sine = WAVELENGTH * slope;
    const crossing = -(x * Math.sqrt(1 - sine * sine)) / sine;
    // The ray goes on from the axis to the surface, where it has its h.
    let h = 0;
    for (let turn = 0; turn < 50; turn++)
      h = -((VERTEX + sheet(h, 0) - crossing) * sine) / Math.sqrt(1 - sine * sine);
    expect(Math.abs(crossing - VERTEX - (RADIUS + (h * h) / (2 * RADIUS)))).toBeLessThan(1e-4);
    expect(Math.abs(h)).toBeGreaterThan(x);
  }
});

describe.each(CONICS)('κ $conic', ({ conic }) => {
  it('has κh⁴/(4R³) of spherical aberration, round trip, from its centre of curvature', () => {
    const [aspheric, sphere] = [
      pathOf(conicOf(conic)),
      pathOf({ sphere: { centre: [0, 0, RADIUS], diameter: -2 * RADIUS, side: 'inside' } }),
    ];
    convergesTo1(
      APERTURES.map((h) => {
        const x = (-h * (VERTEX + RADIUS)) / Math.sqrt(RADIUS * RADIUS - h * h);
        return (2 * (aspheric(x, 0) - sphere(x, 0))) / ((conic * h ** 4) / (4 * RADIUS ** 3));
      }),
    );
  });

  it('decentred by δ has κδh³/R³ of coma, round trip, beside the tilt of a sphere, along the decentre alone', () => {
    const delta = 0.02;
    const sheet = {
      height: isoAsphere(RADIUS, conic),
      toSubstrate: ([x, y, z]: readonly number[]) => [x!, y!, z! + VERTEX] as const,
    };
    for (const along of [0, 1]) {
      const by = (length: number): [number, number] => (along === 0 ? [length, 0] : [0, length]);
      const [plus, minusOne] = [pathOf(conicOf(conic), by(delta)), pathOf(conicOf(conic), by(-delta))];
      const moved = (x: number, y: number): number => {
        const { on } = followedBack(sheet, x, y, undefined);
        return plus(...on) - minusOne(...on);
      };
      // A sphere's is −δ h/R one way, a tilt, whatever the aperture.
      const coma = (h: number): number => moved(...by(h)) + (2 * delta * h) / RADIUS;
      convergesTo1(APERTURES.map((h) => coma(h) / ((-conic * delta * h ** 3) / RADIUS ** 3)));
      expect(Math.abs(moved(...(by(60).reverse() as [number, number])))).toBeLessThan(1e-9);
    }
  });

  it('leaves a quarter of that in height at the edge over √72, as its third-order Zernike coma, once tilt is taken out', () => {
    convergesTo1(
      APERTURES.map((edge) => {
        const [ofX, ofY] = motionMaps(nullOf(conicOf(conic), [0, 0], 2 * edge))!.maps;
        const third = (conic * edge ** 3) / (2 * RADIUS ** 3) / Math.sqrt(72);
        expect(ofY!.terms[7]! / ofX!.terms[8]!).toBeCloseTo(1, 9);
        expect(Math.abs(ofX!.left / ofX!.terms[8]!)).toBeCloseTo(1, 2);
        return ofX!.terms[8]! / third;
      }),
    );
  });
});

describe('a sphere’s null is a focus at its centre', () => {
  const centre = [8, -5, 520] as const;
  it.each(['part', 'interferometer'])('pattern facing the %s', (patternFaces) => {
    const [thickness, index] = [9.5, 1.457];
    const { main, patches } = nullOf(
      { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } },
      [0, 0],
      200,
      {
        interferometer: { focus: [2, 1, -500] },
        substrate: { outline: { circle: { diameter: 400 } }, thickness, index, patternFaces },
        part: {
          origin: centre,
          datums: { M: { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } } },
        },
        references: [{ id: 'b', kind: 'ball', diameter: 10, frame: 'part', at: [0, 0, 0] }],
        patches: [pointPatch('p', 'b', [10, 4], 60)],
      },
    );
    const [{ phase, order }] = patches as unknown as [(typeof patches)[number]];
    const differences = (other: (x: number, y: number) => number): readonly number[] =>
      Array.from({ length: 40 }, (_, k) => {
        const [x, y] = [
          10 + 4.7 * Math.sqrt(k) * Math.cos(2.4 * k),
          4 + 4.7 * Math.sqrt(k) * Math.sin(2.4 * k),
        ];
        return main!.phase.phase(x, y) - other(x, y);
      });
    const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
    expect(order).toBe(1);
    expect(spread(differences((x, y) => phase.phase(x, y)))).toBeLessThan(1e-6);
    if (patternFaces === 'part') return;
    const inAir = (q: readonly [number, number, number]): number => size(minus(q, centre));
    const byPaths = (x: number, y: number): number =>
      (-pathThroughExit([x, y, 0], thickness, index, inAir) - Math.hypot(x - 2, y - 1, 500)) / WAVELENGTH;
    expect(spread(differences(byPaths))).toBeLessThan(2e-4);
  });
});
