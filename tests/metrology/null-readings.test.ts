/**
 * The null as readings of the part's place: its rows against differences of traced wavefronts by code that shares nothing with src/, its
 * sign against that of a patch on the same centre, what it cannot see, and how the surface's own figure counts. mm, rad, waves.
 */
import { describe, expect, it } from 'vitest';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { estimatePose, poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { nullReading, nullSight } from '../../src/metrology/null/null-readings.ts';
import { indexOf, leverOf, type NullTerm, shownPerMm } from '../../src/metrology/null/null-terms.ts';
import { nullWhenMoved } from '../../src/metrology/null/null-trace.ts';
import { DEGREES, type FigureTerm } from '../../src/scenario/scenario.ts';
import { nullReader } from '../independent/null-reading.ts';
import { isoAsphere } from '../independent/surface-sheets.ts';
import '../machine/patience.ts';
import { designFrom, pointPatch, type Words } from './support/design-from.ts';
import { parabolaScene } from './support/parabola-scene.ts';

const WAVELENGTH = 632.8e-6;

/** Each with its orders n, m of ISO 24157. */
const TERMS: readonly (readonly [NullTerm, number, number])[] = [
  [{ term: 'tilt', part: 0 }, 1, 1],
  [{ term: 'tilt', part: 1 }, 1, -1],
  [{ term: 'power', part: 0 }, 2, 0],
  [{ term: 'astigmatism', part: 0 }, 2, 2],
  [{ term: 'astigmatism', part: 1 }, 2, -2],
  [{ term: 'coma', part: 0 }, 3, 1],
  [{ term: 'coma', part: 1 }, 3, -1],
  [{ term: 'spherical', part: 0 }, 4, 0],
];

interface Surface {
  readonly what: string;
  readonly radius: number;
  readonly conic: number;
  readonly terms?: Record<number, number>;
  readonly vertex: readonly [number, number, number];
  readonly distance: number;
  readonly aperture: { readonly diameter: number; readonly centre: readonly [number, number] };
}
const SURFACES: readonly Surface[] = [
  {
    what: 'a concave paraboloid beyond its centre of curvature',
    ...{ radius: -2000, conic: -1, vertex: [0, 0, 0], distance: 2600 },
    aperture: { diameter: 400, centre: [0, 0] },
  },
  {
    what: 'an off-axis hyperboloid with an even term, its vertex off the origin',
    ...{ radius: -2000, conic: -1.5, terms: { 4: 2e-12 }, vertex: [5, -8, 30], distance: 2600 },
    aperture: { diameter: 300, centre: [100, 30] },
  },
  {
    what: 'a convex ellipsoid before its centre of curvature',
    ...{ radius: 900, conic: -0.6, vertex: [0, 0, 10], distance: 300 },
    aperture: { diameter: 120, centre: [-20, 10] },
  },
];
/** Of the largest coefficient that the motion shows in any term: the two fits weigh their points differently. */
const AGREES = 2e-3;

describe.each(SURFACES)('$what', ({ radius, conic, terms = {}, vertex, distance, aperture }) => {
  const origin = [0, 0, distance] as const;
  const design = designFrom({
    substrate: { outline: { circle: { diameter: 500 } }, thickness: 0 },
    part: {
      origin,
      datums: { M: { asphere: { vertex: [...vertex], axis: [0, 0, 1], radius, conic, terms } } },
    },
    test: { surface: 'M', aperture: { circle: { ...aperture } } },
  });
  const main = design.main!;
  const reader = nullReader(
    { height: isoAsphere(radius, conic, terms), vertex, origin },
    aperture,
    WAVELENGTH,
  );

  it.each(DEGREES.map((degree, k) => [degree, k] as const))(
    'shows of %s in each term what traced wavefronts differ by',
    (degree, k) => {
      const step = degree.startsWith('r') ? 2e-6 : 2e-3;
      const motion = (by: number) => DEGREES.map((_, at) => (at === k ? by : 0));
      const [plus, minus] = [reader.read(motion(step)), reader.read(motion(-step))];
      const pairs = TERMS.map(([term, n, m]) => {
        const { force, moment } = leverOf(main, term, [...origin]);
        const own = [...force, ...moment][k]! * shownPerMm(design, main, term, 'waves');
        return [own, (plus(n, m) - minus(n, m)) / (2 * step)] as const;
      });
      const most = Math.max(...pairs.map(([, traced]) => Math.abs(traced)));
      // About its own axis a surface of revolution shows nothing but the trace's rounding.
      const isBlind = degree === 'rz' && vertex[0] === 0 && vertex[1] === 0;
      for (const [own, traced] of pairs)
        if (isBlind) expect(Math.abs(own)).toBeLessThan(1e-9);
        else expect(Math.abs(own - traced)).toBeLessThan(AGREES * most);
    },
  );

  it('shows of a motion in all six, large enough to bend, what the trace shows', () => {
    const motion = [0.2, -0.15, 0.4, 1e-4, -2e-4, 3e-4];
    const traced = reader.read(motion);
    const own = nullWhenMoved(
      design,
      main,
      [motion[0]!, motion[1]!, motion[2]!],
      [motion[3]!, motion[4]!, motion[5]!],
    )!;
    const most = Math.max(...TERMS.map(([, n, m]) => Math.abs(traced(n, m))));
    for (const [term, n, m] of TERMS)
      expect(Math.abs((own[indexOf(term)]! * 2) / WAVELENGTH - traced(n, m))).toBeLessThan(AGREES * most);
  });
});

/** A concave sphere of R 1000 mm, its centre a ball's, which a patch looks at beside the main pattern. */
const CENTRE = [12, -7, 420] as const;
const sphereScene = (test: Words = {}): Words => ({
  interferometer: { focus: [0, 0, -500], fNumber: 1.5, pixelsAcrossBeam: 4000, readable: 0.1 },
  substrate: { outline: { circle: { diameter: 240 } }, thickness: 0 },
  part: {
    origin: [0, 0, 500],
    datums: { M: { sphere: { centre: [12, -7, -80], diameter: 2000, side: 'inside' } } },
  },
  references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: CENTRE }],
  patches: [pointPatch('p', 'b', [95, 0], 10)],
  test: { surface: 'M', aperture: { circle: { diameter: 120 } }, ...test },
});

describe('a concave sphere', () => {
  const design = designFrom(sphereScene());
  const main = design.main!;

  it('moved along + shows positive tilt, and power where it goes away, as the point-focus patch on its centre does', () => {
    const [patch] = design.patches;
    const senses = patch!.senses;
    expect(senses[0]![0]).toBeGreaterThan(0.9);
    expect(senses[2]![2]).toBeGreaterThan(0.9);
    expect(leverOf(main, { term: 'tilt', part: 0 }, CENTRE).force[0]).toBeGreaterThan(0);
    expect(leverOf(main, { term: 'tilt', part: 1 }, CENTRE).force[1]).toBeGreaterThan(0);
    expect(leverOf(main, { term: 'power', part: 0 }, CENTRE).force[2]).toBeGreaterThan(0);
  });

  it('moved sideways by q shows 2Dq/(λs) fringes of tilt over the footprint and along the light q(D/2s)²/λ of power, as a point does', () => {
    // Born & Wolf, on the path between two points: D the footprint's width, s the way from the pattern to the centre.
    const [width, away] = [(120 * CENTRE[2]) / 1000, CENTRE[2]];
    const perMm = (term: FigureTerm, axis: number): number => {
      const of: NullTerm = { term, part: 0 };
      return leverOf(main, of, CENTRE).force[axis]! * shownPerMm(design, main, of, 'fringes');
    };
    const tilt = (2 * width) / (WAVELENGTH * away);
    const power = (width / (2 * away)) ** 2 / WAVELENGTH;
    // Terms of higher order in the width over the distance, squared.
    expect(Math.abs(perMm('tilt', 0) / tilt - 1)).toBeLessThan((width / away) ** 2 / 2);
    expect(Math.abs(perMm('power', 2) / power - 1)).toBeLessThan((width / away) ** 2);
  });

  it('shows a wave aimed off by τ as the move of the surface that would meet it: −û·τ is of a centre moved by τ', () => {
    const tau = [0.3, -0.2, 0.5];
    const aimedOff = (x: number, y: number): number => {
      const ray = [CENTRE[0] - x, CENTRE[1] - y, CENTRE[2]];
      return -ray.reduce((sum, part, k) => sum + part * tau[k]!, 0) / Math.hypot(...ray);
    };
    for (const [term] of TERMS) {
      const shown = nullReading(design, main, term, 1).nullTerm!.shown(aimedOff);
      const { force } = leverOf(main, term, CENTRE);
      expect(shown).toBeCloseTo(
        force.reduce((sum, part, k) => sum + part * tau[k]!, 0),
        12,
      );
    }
  });

  it('turning about its centre is not seen by the null alone, which is said', () => {
    const { alone, unobservedAlone } = nullSight(design)!;
    expect(unobservedAlone).toEqual(
      ['x', 'y', 'z'].map((axis) =>
        expect.stringMatching(new RegExp(`^to turn about an axis along ${axis} through`)),
      ),
    );
    expect(unobservedAlone[0]).toMatch(/y = -7 mm, z = -80 mm$/);
    for (const [term] of TERMS) expect(Math.hypot(...leverOf(main, term, CENTRE).moment)).toBeLessThan(1e-9);
    // By eye a place is set to 1 mm, half a metre off the centre.
    for (const degree of ['rx', 'ry', 'rz'] as const)
      expect(alone[degree] === null || alone[degree] > 1e-4).toBe(true);
  });
});

describe('a paraboloid', () => {
  const sight = (ownFigure: Words) => nullSight(designFrom(parabolaScene({ test: { ownFigure } })))!;

  it('read alone does not tell tilt from decentre: it turns about its centre of curvature, off it by less than coma tells', () => {
    const { unobservedAlone } = sight({});
    expect(unobservedAlone).toHaveLength(3);
    expect(unobservedAlone[0]).toMatch(/^to turn about an axis along x through .* z = -20\d\d/);
    expect(unobservedAlone[2]).toBe("to turn about the part's z axis");
  });

  it('tells them apart by coma where its own coma is known, by as much as coma leaves: δ a³/(2R³)/√72 rms', () => {
    const words = parabolaScene({ test: { ownFigure: { coma: '0.1 nm', tilt: '1 nm', power: '1 nm' } } });
    const inLine = { x: '1e-9 mm', y: '1e-9 mm', z: '1e-9 mm', rx: '1e-6 urad', ry: '1e-6 urad' };
    const interferometer = { ...(words.interferometer as Words), placed: inLine };
    const known = nullSight(designFrom({ ...words, interferometer }))!;
    expect(known.unobservedAlone).toEqual(["to turn about the part's z axis"]);
    // A hundredth of a wave of the return, λ/2 of height, and 0.1 nm of its own, against what 1 mm of decentre leaves (Malacara).
    const perMm = 150 ** 3 / (2 * 2000 ** 3) / Math.sqrt(72);
    const height = Math.hypot((0.01 * WAVELENGTH) / 2, 1e-7);
    expect(known.alone.x! / (height / perMm)).toBeCloseTo(1, 1);
  });

  it('adds to what the patches see, the more the better its own figure is known, and never takes anything', () => {
    const design = designFrom(parabolaScene());
    const { full } = poseOf(design);
    const [usual, known] = [nullSight(design)!, sight({ tilt: '10 nm', power: '10 nm', coma: '1 nm' })];
    DEGREES.forEach((degree, k) => {
      expect(usual.sigma[degree]!).toBeLessThanOrEqual(Math.sqrt(full.covariance[k * 7]!) * (1 + 1e-9));
      expect(known.sigma[degree]!).toBeLessThanOrEqual(usual.sigma[degree]! * (1 + 1e-9));
    });
  });

  it('is counted with every error of the waves as the error models say of its readings', () => {
    const design = designFrom(parabolaScene());
    const u = (0.01 * WAVELENGTH) / 2;
    const read = TERMS.filter(([{ term }]) => term === 'tilt' || term === 'power' || term === 'coma');
    const terms = read.map(([term]) => nullReading(design, design.main!, term, u));
    const { full } = estimatePose(design, COMMON_PRACTICE, [...poseOf(design).readings, ...terms]);
    const { sigma } = nullSight(design)!;
    DEGREES.forEach((degree, k) => {
      expect(sigma[degree]! / Math.sqrt(full.covariance[k * 7]!)).toBeCloseTo(1, 6);
    });
  });

  it('is a hundredth of a wave good as a reading by itself: its row is a height of half a wave for a wave', () => {
    const design = designFrom(parabolaScene());
    const of: NullTerm = { term: 'coma', part: 0 };
    const { direction, nullTerm } = nullReading(design, design.main!, of, 1);
    expect(shownPerMm(design, design.main!, of, 'waves')).toBeCloseTo(2 / WAVELENGTH, 6);
    // A wave that runs longer by what 1 mm of decentre does is met by a surface decentred by 1 mm.
    const step = 1e-3;
    const [there, here] = [step, 0].map((x) => nullWhenMoved(design, design.main!, [x, 0, 0], [0, 0, 0])!);
    expect((there![indexOf(of)]! - here![indexOf(of)]!) / step / direction[0]).toBeCloseTo(1, 3);
    expect(nullTerm!.term).toBe('coma');
  });
});
