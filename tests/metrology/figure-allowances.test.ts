/**
 * What the figure allows each degree: independent errors of that size keep it, by moved surfaces whose exact heights are evaluated by code that
 * shares nothing with src/. With errors of ±u in every degree and all 64 choices of signs, the products of two degrees cancel, and the mean
 * square is the expectation itself, without a sampling error. nm of height, mm and rad.
 */
import { describe, expect, it, test } from 'vitest';
import { poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { figureAllowances } from '../../src/metrology/null/figure-allowances.ts';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { discPoints, evaluation } from '../independent/evaluated.ts';
import { movedSheet, reached } from '../independent/null-traced.ts';
import { normalDeviates } from '../independent/random.ts';
import { isoAsphere, squareOn } from '../independent/surface-sheets.ts';
import { designFrom, linePatch, type Words } from './support/design-from.ts';
import { ORIGIN, PARABOLA, parabolaScene } from './support/parabola-scene.ts';

const NM = 1e6;
/** Common practice: set by eye to 1 mm at worst, taken as rectangular. */
const EYE = 1 / Math.sqrt(3);
const onAxis = (figure: string, more: Words = {}): Words => parabolaScene({ test: { figure }, words: more });

/** A paraboloid's section 60 mm off its axis, the vertex the part's origin. */
const SECTION = {
  radius: -800,
  diameter: 100,
  centre: [60, 0],
  vertex: [0, 0, 0],
  origin: [18, 0, 1040],
} as const;
const offAxis = (figure: string): Words => ({
  interferometer: {
    ...{ focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 1000, readable: 0.1 },
    placed: { x: '20 um', y: '20 um', z: '20 um', rx: '40 urad', ry: '40 urad' },
  },
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 0 },
  part: {
    origin: SECTION.origin,
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: SECTION.radius, conic: -1 } } },
  },
  references: [90, 210, 330].map((degrees, k) => {
    const azimuth = (degrees * Math.PI) / 180;
    const at = [60 + 125 * Math.cos(azimuth), 125 * Math.sin(azimuth), 10];
    return { id: `c${k}`, kind: 'smr', diameter: 38.1, frame: 'part', at };
  }),
  patches: [90, 210, 330].flatMap((degrees, k) =>
    [-10, 10].map((step) => {
      const azimuth = ((degrees + step) * Math.PI) / 180;
      const centre = [55 * Math.cos(azimuth), 55 * Math.sin(azimuth)] as const;
      return linePatch(`c${k}-${step}`, `c${k}`, centre, step < 0 ? degrees : degrees - 90, 10);
    }),
  ),
  test: {
    surface: 'M',
    aperture: { circle: { diameter: SECTION.diameter, centre: SECTION.centre } },
    figure,
  },
});

const SURFACES = [
  {
    name: 'a paraboloid on its axis',
    words: onAxis('10 nm'),
    figure: 10,
    standing: { height: isoAsphere(PARABOLA.radius, PARABOLA.conic), vertex: [0, 0, 0], origin: ORIGIN },
    points: discPoints(isoAsphere(PARABOLA.radius, PARABOLA.conic), PARABOLA.diameter / 2),
  },
  {
    name: 'a section off its axis, the figure kept with room',
    words: offAxis('15 nm'),
    figure: 15,
    standing: { height: isoAsphere(SECTION.radius, -1), ...SECTION },
    points: discPoints(isoAsphere(SECTION.radius, -1), SECTION.diameter / 2, SECTION.centre),
  },
  {
    name: 'the same section, the figure missed',
    words: offAxis('0.2 nm'),
    figure: 0.2,
    standing: { height: isoAsphere(SECTION.radius, -1), ...SECTION },
    points: discPoints(isoAsphere(SECTION.radius, -1), SECTION.diameter / 2, SECTION.centre),
  },
] as const;

/** Moves are made so much smaller, and what they leave so much larger: the allowances are of the first order, a tilt of a milliradian is not. */
const SMALL = 1e-3;
/** The points of the evaluation are some hundreds: of the rms. */
const BY_POINTS = 0.01;

describe.each(SURFACES)('$name', ({ words, figure, standing, points }) => {
  const design = designFrom(words);
  const allowances = figureAllowances(design)!;
  const evaluated = evaluation(points);
  const still = movedSheet(standing, [0, 0, 0, 0, 0, 0]);
  const rays = points.map(({ x, y }) => squareOn(still, x, y));
  const leftNm = (motion: readonly number[]): number => {
    const small = motion.map((part) => part * SMALL);
    return (NM * evaluated(rays.map(({ at, back }) => reached(standing, small, at, back).way))) / SMALL;
  };
  /** A degree that may be set by eye is far from all others, and its terms of the second order with it: those that leave nothing stand still. */
  const errors = allowances.map(({ allowed }, k) =>
    motionMaps(design)!.maps[k]!.left < 1e-12 ? 0 : allowed,
  );

  it('is kept by independent errors of the allowed sizes', () => {
    let square = 0;
    for (let signs = 0; signs < 64; signs++)
      square += leftNm(errors.map((u, k) => ((signs >> k) & 1 ? u : -u))) ** 2 / 64;
    expect(Math.abs(Math.sqrt(square) / figure - 1)).toBeLessThan(BY_POINTS);
  });

  it('is passed by no more than the root of the number of degrees where their errors go together', () => {
    const normal = normalDeviates(3);
    const count = errors.filter((u) => u > 0).length;
    for (let draw = 0; draw < 40; draw++) {
      const one = normal();
      const signs = errors.map(() => Math.sign(normal()));
      const square = leftNm(errors.map((u, k) => u * signs[k]! * one));
      expect(square / Math.abs(one)).toBeLessThan(figure * Math.sqrt(count) * (1 + BY_POINTS));
    }
  });
});

const nmOf = (words: Words) => {
  const design = designFrom(words);
  const { maps } = motionMaps(design)!;
  return {
    size: poseOf(design).size,
    rows: figureAllowances(design)!.map((row, k) => {
      const left = maps[k]!.left * NM;
      return { ...row, allowedNm: row.allowed * left, reachedNm: (row.reached ?? Number.NaN) * left };
    }),
  };
};

test('no degree is asked for more than it reaches where the whole is kept, and what is over is shared alike', () => {
  const { rows } = nmOf(offAxis('15 nm'));
  const bound = rows.filter(({ byEye }) => !byEye);
  expect(bound.map(({ degree }) => degree)).toEqual(['x', 'y']);
  const slight = (0.1 * 15) ** 2;
  const spare = bound.map(({ allowedNm, reachedNm }) => allowedNm ** 2 - Math.max(slight, reachedNm ** 2));
  for (const one of spare) {
    expect(one).toBeGreaterThan(0);
    expect(one / spare[0]!).toBeCloseTo(1, 9);
  }
});

test('where the figure is missed the largest come down to a common level, and what leaves little is left alone', () => {
  const { rows } = nmOf(offAxis('0.2 nm'));
  const down = rows.filter(({ allowedNm, reachedNm }) => allowedNm < reachedNm * (1 - 1e-9));
  expect(down.length).toBeGreaterThan(1);
  for (const { allowedNm } of down) expect(allowedNm / down[0]!.allowedNm).toBeCloseTo(1, 9);
  for (const { allowed, reached, allowedNm } of rows.filter((row) => !down.includes(row))) {
    expect(allowed).toBeGreaterThanOrEqual(reached!);
    expect(allowedNm).toBeLessThanOrEqual(down[0]!.allowedNm * (1 + 1e-9));
  }
});

test('a turn about the axis of a surface of revolution may be set by eye, whatever is asked', () => {
  for (const figure of ['0.001 nm', '5 nm']) {
    const { rows, size } = nmOf(onAxis(figure));
    expect(rows[5]).toMatchObject({ degree: 'rz', byEye: true });
    expect(rows[5]!.allowed).toBeCloseTo(EYE / size, 12);
  }
});

test('a figure that setting by eye keeps allows that in every degree, and no more', () => {
  const { rows, size } = nmOf(onAxis('1 um'));
  expect(rows.map(({ degree }) => degree)).toEqual(DEGREES);
  rows.forEach(({ byEye, allowed }, k) => {
    expect(byEye).toBe(true);
    expect(allowed).toBeCloseTo(k < 3 ? EYE : EYE / size, 12);
  });
});

test('without readings the degrees share the figure alike, but for those that setting by eye keeps', () => {
  // Along the axis by hand: the height δ cos θ has 3/8 (h/R)⁴ δ in it, rms over 6√5 less defocus: 0.5 nm for what the eye sets.
  const byHand = (NM * EYE * 0.375 * (150 / 2000) ** 4) / (6 * Math.sqrt(5));
  const { rows } = nmOf({ ...onAxis('2 nm'), patches: [] });
  expect(rows[2]).toMatchObject({ degree: 'z', byEye: true });
  expect(rows[2]!.allowedNm / byHand).toBeCloseTo(1, 1);
  const shared = rows.filter(({ byEye }) => !byEye);
  expect(shared.map(({ degree }) => degree)).toEqual(['x', 'y', 'rx', 'ry']);
  for (const { reached, allowedNm } of shared) {
    expect(reached).toBeNull();
    expect(allowedNm / shared[0]!.allowedNm).toBeCloseTo(1, 9);
  }
  const square = rows.reduce((sum, { allowedNm }) => sum + allowedNm ** 2, 0);
  expect(Math.sqrt(square)).toBeCloseTo(2, 9);
});

test('a scenario that asks for no figure has no allowances', () => {
  expect(figureAllowances(designFrom(parabolaScene()))).toBeUndefined();
  expect(figureAllowances(designFrom({ ...parabolaScene(), test: undefined }))).toBeUndefined();
});
