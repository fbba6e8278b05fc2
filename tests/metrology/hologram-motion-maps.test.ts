/**
 * What a motion of the hologram leaves in the measured figure, against first differences of traced returns: from the focus through the moved
 * hologram to the surface and back, by code that shares nothing with src/. nm for 1 µm and 1 µrad.
 */
import { describe, expect, it } from 'vitest';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { hologramHeights } from '../../src/metrology/sensing/motion-heights.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { discPoints, evaluation } from '../independent/evaluated.ts';
import { type NullBench, returnOf } from '../independent/hologram-moved.ts';
import { normed } from '../independent/ray.ts';
import { isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from './support/design-from.ts';

interface Case {
  readonly what: string;
  readonly conic: number;
  readonly beam: NullBench['beam'];
  readonly interferometer: Words;
  readonly glass?: NullBench['glass'];
  readonly aperture: { readonly diameter: number; readonly centre: readonly [number, number] };
}
const ASLANT = normed([0.05, -0.03, 1]);
const CASES: readonly Case[] = [
  {
    what: 'a paraboloid in a diverging beam, no glass',
    conic: -1,
    beam: { focus: [0, 0, -500] },
    interferometer: { focus: [0, 0, -500] },
    aperture: { diameter: 500, centre: [0, 0] },
  },
  {
    what: 'an off-axis ellipsoid in a diverging beam off axis, through glass before the pattern',
    conic: -0.6,
    beam: { focus: [20, -10, -400] },
    interferometer: { focus: [20, -10, -400] },
    glass: { side: 'before', thickness: 12, index: 1.5 },
    aperture: { diameter: 260, centre: [-60, 90] },
  },
  {
    what: 'an off-axis hyperboloid in a collimated beam aslant, through glass before the pattern',
    conic: -1.5,
    beam: { direction: ASLANT },
    interferometer: {
      collimated: true,
      direction: [...ASLANT],
      focus: undefined,
      fNumber: undefined,
      beamDiameter: 300,
    },
    glass: { side: 'before', thickness: 20, index: 1.5 },
    aperture: { diameter: 200, centre: [40, 60] },
  },
  {
    what: 'a paraboloid in a converging beam, glass after the pattern',
    conic: -1,
    beam: { focus: [5, 0, 900] },
    interferometer: { focus: [5, 0, 900] },
    glass: { side: 'after', thickness: 15, index: 1.5 },
    aperture: { diameter: 300, centre: [80, 0] },
  },
];
/** Of the traced returns' rms; and of a map, point by point, what is of second order in the steps taken. */
const AGREES = 0.01;
const ROUNDING = 1e-4;

describe.each(CASES)('$what', ({ conic, beam, interferometer, glass, aperture }) => {
  const origin = [0, 0, 2600] as const;
  const design = designFrom({
    interferometer: { fNumber: 1, pixelsAcrossBeam: 1000, readable: 0.1, ...interferometer },
    substrate: {
      outline: { circle: { diameter: 500 } },
      ...(glass === undefined
        ? { thickness: 0 }
        : {
            thickness: glass.thickness,
            index: glass.index,
            patternFaces: glass.side === 'before' ? 'part' : 'interferometer',
          }),
    },
    part: {
      origin,
      datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic } } },
    },
    test: { surface: 'M', aperture: { circle: aperture }, order: 1 },
  });
  const height = isoAsphere(-2000, conic);
  const bench: NullBench = { standing: { height, vertex: [0, 0, 0], origin }, beam, ...(glass && { glass }) };
  const points = discPoints(height, aperture.diameter / 2, aperture.centre, 20);
  const evaluated = evaluation(points);
  const drawn = points.map(({ x, y }) => hologramHeights(design, design.main!.normals.from(x, y)!));
  const { hologram } = motionMaps(design)!;

  it.each(DEGREES.map((degree, k) => [degree, k] as const))(
    'the hologram’s %s leaves what traced returns differ by, point by point and after evaluation',
    (degree, k) => {
      const isTurn = degree.startsWith('r');
      const step = isTurn ? 2e-6 : 2e-3;
      const [ahead, behind] = [1, -1].map((sign) => {
        const motion = [0, 0, 0, 0, 0, 0];
        motion[k] = sign * step;
        return points.map(({ x, y }) => returnOf(bench, motion, x, y));
      });
      const traced = ahead!.map((wave, at) => (behind![at]! - wave) / (4 * step));
      const size = isTurn ? 1000 : 1;
      const worst = Math.max(...traced.map((value, at) => Math.abs(value - drawn[at]![k]!)));
      expect(worst).toBeLessThan(ROUNDING * size);
      const left = evaluated(traced);
      if (left < 1e-7 * size) expect(hologram[k]!.left).toBeLessThan(2e-7 * size);
      else
        expect(Math.abs(hologram[k]!.left / left - 1), `${hologram[k]!.left}, traced ${left}`).toBeLessThan(
          AGREES,
        );
      expect(hologram[k]!.of).toBe('hologram');
    },
  );
});

describe('what is known without a trace', () => {
  const flat = (datum: Words, test: Words = {}) =>
    motionMaps(
      designFrom({
        interferometer: { collimated: true, beamDiameter: 120, pixelsAcrossBeam: 1000, readable: 0.1 },
        substrate: { outline: { circle: { diameter: 150 } }, thickness: 0 },
        part: { origin: [0, 0, 500], datums: { M: datum } },
        test: { surface: 'M', aperture: { circle: { diameter: 100 } }, order: 1, ...test },
      }),
    )!;
  const paraboloid = { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic: -1 } };

  it('in a collimated beam square to it the hologram’s decentre is the part’s, the other way, and a turn about the beam is seen by none', () => {
    const { maps, hologram } = flat(paraboloid);
    expect(hologram[0]!.left).toBeCloseTo(maps[0]!.left, 12);
    expect(hologram[0]!.terms[8]!).toBeCloseTo(-maps[0]!.terms[8]!, 12);
    expect(hologram[5]!.raw).toBeLessThan(1e-12);
  });

  it('a flat that meets the beam square on is none the worse for any motion of a plain piece of glass', () => {
    // No pattern is needed: there is nothing on the glass to move but its phase, which is the same everywhere.
    const plane = { plane: { point: [0, 0, 0], normal: [0, 0, -1] } };
    for (const { raw } of flat(plane, { removed: [] }).hologram) expect(raw).toBeLessThan(1e-12);
  });
});
