/**
 * What misalignment is expected to leave in the figure: against the trace of the covariance with the Gram matrix, against a Monte Carlo
 * that moves the part and evaluates exact heights by code that shares nothing with src/, and against traced beams out of line. nm of height.
 */
import { describe, expect, it } from 'vitest';
import { poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { figureError } from '../../src/metrology/null/figure-error.ts';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { discPoints, evaluation } from '../independent/evaluated.ts';
import { movedSheet, reached } from '../independent/null-traced.ts';
import { normalDeviates } from '../independent/random.ts';
import { isoAsphere, squareOn } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from './support/design-from.ts';
import { ORIGIN, PARABOLA, parabolaScene } from './support/parabola-scene.ts';

const NM = 1e6;
const placed = (by: Words): Words => ({
  ...Object.fromEntries(['x', 'y', 'z'].map((axis) => [axis, '1e-9 mm'])),
  ...Object.fromEntries(['rx', 'ry'].map((axis) => [axis, '1e-6 urad'])),
  ...by,
});
const scene = (by: Words, readable = 0.1): Words => {
  const words = parabolaScene({ readable });
  return { ...words, interferometer: { ...(words.interferometer as Words), placed: placed(by) } };
};

describe('a hologram in line with its beam', () => {
  // Read so coarsely that what changes of the waves leave in the null itself does not count.
  const design = designFrom(scene({}, 10));
  const { factor } = motionMaps(design)!;
  const { covariance } = poseOf(design).full;
  const error = figureError(design)!;

  it('has the root of tr(C M) as its expectation, which the terms and the degrees share out', () => {
    let trace = 0;
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++)
        for (let row = 0; row < 6; row++)
          trace += covariance[i * 6 + j]! * factor[row * 6 + i]! * factor[row * 6 + j]!;
    expect(error.expected! / Math.sqrt(trace)).toBeCloseTo(1, 4);
    const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);
    expect(sum(error.terms.map(([, square]) => square)) / trace).toBeCloseTo(1, 4);
    expect(sum(Object.values(error.shares))).toBeCloseTo(1, 4);
    expect(error.terms[0]![0]).toBe('reading');
    const share = (i: number): number => {
      let part = 0;
      for (let j = 0; j < 6; j++)
        for (let row = 0; row < 6; row++)
          part += covariance[i * 6 + j]! * factor[row * 6 + i]! * factor[row * 6 + j]!;
      return part / trace;
    };
    DEGREES.forEach((degree, k) => {
      expect(error.shares[degree]).toBeCloseTo(share(k), 4);
      expect(error.shares[error.mostly!]).toBeGreaterThanOrEqual(error.shares[degree]);
    });
  });

  it('leaves that much, and its 95 %, when the part is moved by draws and its exact heights evaluated', () => {
    const standing = {
      height: isoAsphere(PARABOLA.radius, PARABOLA.conic),
      vertex: [0, 0, 0],
      origin: ORIGIN,
    } as const;
    const points = discPoints(standing.height, PARABOLA.diameter / 2, [0, 0], 14);
    const evaluated = evaluation(points);
    const still = movedSheet(standing, [0, 0, 0, 0, 0, 0]);
    const rays = points.map(({ x, y }) => squareOn(still, x, y));
    const draw = drawsOf(covariance, 7);
    const outcomes = Array.from({ length: TRIALS }, () => {
      const motion = draw().map((part) => part * SMALL);
      return (NM * evaluated(rays.map(({ at, back }) => reached(standing, motion, at, back).way))) / SMALL;
    }).sort((a, b) => a - b);
    const mean = Math.sqrt(outcomes.reduce((sum, rms) => sum + rms * rms, 0) / TRIALS);
    expect(Math.abs((NM * error.expected!) / mean - 1)).toBeLessThan(SAMPLING);
    expect(Math.abs((NM * error.p95!) / outcomes[Math.ceil(0.95 * TRIALS) - 1]! - 1)).toBeLessThan(SAMPLING);
  });
});

/** The root of a mean square of some one to three degrees by so many draws is good to 3 %, as is the 95 %; three times that. */
const TRIALS = 500;
const SAMPLING = 0.1;
/** Draws are made so much smaller, and what they leave so much larger: tr(C M) is of the first order, and tilts of a milliradian are not. */
const SMALL = 1e-4;

/** Draws with a covariance, by Cholesky's factor in units of each standard deviation. */
function drawsOf(covariance: Float64Array, seed: number): () => readonly number[] {
  const normal = normalDeviates(seed);
  const lower = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
  for (let i = 0; i < 6; i++)
    for (let j = 0; j <= i; j++) {
      let rest = covariance[i * 6 + j]!;
      for (let k = 0; k < j; k++) rest -= lower[i]![k]! * lower[j]![k]!;
      lower[i]![j] = i === j ? Math.sqrt(rest) : rest / lower[j]![j]!;
    }
  return () => {
    const deviates = Array.from({ length: 6 }, normal);
    return lower.map((row) => row.reduce((sum, entry, k) => sum + entry * deviates[k]!, 0));
  };
}

/**
 * Of a trace in air that shares no code with the project: the beam's focus 0.1 mm off, or the hologram turned by 100 µrad, the part set so
 * that all six readings are the designed ones. `left` with the part there, `nullLeft` with it where the null is best; nm.
 */
const BEAMS = [
  { off: 'x', by: { x: '0.1 mm' }, left: 1.68, nullLeft: 0.03, move: { 0: -568, 4: -224 } },
  { off: 'z', by: { z: '0.1 mm' }, left: 2.13, nullLeft: 0.6, move: { 2: 141 } },
  { off: 'rx', by: { rx: '100 urad' }, left: 0.81, nullLeft: 0.01, move: undefined },
];
/** The trace moves the part by more than a millimetre, to all orders; these figures are of the first. */
const FIRST_ORDER = 0.03;

describe.each(BEAMS)('a beam out of line in $off', ({ off, by, left, nullLeft, move }) => {
  const design = designFrom(scene(by));
  const maps = motionMaps(design)!;
  const axis = { x: 0, z: 2, rx: 1 }[off]!;
  /** A turn of the hologram displaces the focus, 500 mm off, across. */
  const u = off === 'rx' ? 0.05 : 0.1;

  it('leaves what the trace has left', () => {
    const square = figureError(design)!.terms.find(([term]) => term === 'hologram alignment')![1];
    expect(Math.abs((NM * Math.sqrt(square)) / left - 1)).toBeLessThan(FIRST_ORDER);
  });

  it('leaves little in a null that the part follows, which lies where the trace has it', () => {
    const { ofNull } = poseOf(design).sources.find(({ name }) => name === `beam ${'xyz'[axis]}`)!;
    expect(Math.abs(NM * u * Math.hypot(...maps.leftOf(ofNull!.rest)) - nullLeft)).toBeLessThan(0.01);
    for (const [degree, micro] of Object.entries(move ?? {}))
      expect(
        Math.abs((ofNull!.move[Number(degree)]! * u * NM) / 1000 ** (Number(degree) < 3 ? 1 : 0) - micro),
      ).toBeLessThan(1);
    expect(Math.abs(ofNull!.move[5]!)).toBeLessThan(1e-9);
  });
});

describe('what no reading sees', () => {
  it('has no expectation where it leaves something, and says which motion', () => {
    const blind = figureError(designFrom(parabolaScene({ patches: [0] })))!;
    expect(blind.expected).toBeNull();
    expect(blind.p95).toBeNull();
    expect(blind.unseen.map(({ words }) => words)).toEqual(['to move along x']);
    const none = figureError(designFrom(parabolaScene({ patches: [] })))!;
    expect(none.expected).toBeNull();
    expect(none.unseen).toHaveLength(4);
  });
  it('does no harm where it leaves nothing: a sphere that only turns about its centre', () => {
    const sphere = { centre: [0, 0, 0], diameter: 400, side: 'inside' };
    const design = designFrom({
      ...parabolaScene(),
      part: { origin: [0, 0, 500], datums: { M: { sphere } } },
      references: [{ id: 'b', kind: 'ball', diameter: 12.7, frame: 'part', at: [0, 0, 0] }],
      patches: [
        { id: 'p', reference: 'b', focus: 'point', centre: [70, 0], outline: { circle: { diameter: 12 } } },
        { id: 'q', reference: 'b', focus: 'point', centre: [-50, 40], outline: { circle: { diameter: 12 } } },
      ],
      test: { surface: 'M', aperture: { circle: { diameter: 100 } }, order: 1 },
    });
    expect(poseOf(design).free.motions).toHaveLength(3);
    const error = figureError(design)!;
    expect(error.unseen).toEqual([]);
    expect(error.expected!).toBeGreaterThan(0);
  });
});
