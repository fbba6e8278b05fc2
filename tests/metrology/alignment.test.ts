/**
 * The figures of an alignment's record: the place with its covariance, the change from one round to the next against a Monte Carlo of rounds
 * whose readings are drawn anew, what is left in the figure, and the air against the focal length of a zone plate.
 */
import { describe, expect, it, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { airChange } from '../../src/metrology/alignment/air-change.ts';
import { figureLeft } from '../../src/metrology/alignment/figure-left.ts';
import {
  changeBetween,
  NOTHING_ANEW,
  RESEATED,
  type Round,
} from '../../src/metrology/alignment/place-change.ts';
import { seenRound, steeredRound } from '../../src/metrology/alignment/rounds.ts';
import { estimatePose, poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { figureError } from '../../src/metrology/null/figure-error.ts';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { Bench, exampleDesign } from './support/bench.ts';
import { designFrom, pointPatch } from './support/design-from.ts';
import '../machine/patience.ts';

const design = exampleDesign('steer-mirror-on-stage');
const bench = new Bench(design);
const STILL = { translation: [0, 0, 0], rotation: [0, 0, 0] } as const;
/** mm and rad. */
const MOVED = { translation: [0.02, -0.03, 0.2], rotation: [4e-4, -3e-4, 2e-4] } as const;
/** The scenario's `readable`, fringes. */
const READABLE = 0.1;

const random = randomFrom('rounds');
const noisy = (readings: readonly BenchReading[]): BenchReading[] =>
  readings.map((one) =>
    one.kind === 'fringes'
      ? { ...one, fringes: one.fringes.map((value) => value! + READABLE * random.normal()) }
      : one,
  );
function round(readings: readonly BenchReading[]): Round {
  const { steering, place } = steeredRound(design, readings);
  return { part: steering.part, place: place! };
}
const exact = bench.read(STILL, 0);
const still = round(exact);

describe('the place of a round', () => {
  const { place } = round(bench.read(MOVED, 0));
  it('is the displacement that its readings were traced with', () => {
    [...MOVED.translation, ...MOVED.rotation].forEach((part, k) => {
      // 1 nm, 1 nrad: beyond any reading.
      expect(Math.abs(place.six[k]! - part)).toBeLessThan(1e-6);
    });
  });

  it('has a symmetric covariance whose diagonal is the combined uncertainty, no less than that of the readings', () => {
    for (let i = 0; i < 6; i++) {
      expect(Math.sqrt(place.covariance[i * 7]!)).toBeCloseTo(place.combined[i]!, 12);
      expect(place.combined[i]!).toBeGreaterThan(place.sigma[i]!);
      for (let j = 0; j < 6; j++)
        expect(place.covariance[i * 6 + j]).toBeCloseTo(place.covariance[j * 6 + i]!, 14);
    }
  });

  it('is none where unknown signs leave several', () => {
    const unsigned = bench
      .read(MOVED)
      .slice(0, 3)
      .map((one) => ({ ...one, signKnown: false }) as BenchReading);
    expect(steeredRound(design, unsigned)).toMatchObject({ ambiguous: true, place: undefined });
  });
});

describe('readings as they were seen', () => {
  const balls = exampleDesign('diverging-balls');
  const patch = balls.patches[0]!.id;
  const toward = (hour: number): BenchReading => {
    return {
      kind: 'fringes',
      patch,
      fringes: [1.3, undefined, 0.2],
      toward: hour,
      signKnown: true,
      uncertainty: undefined,
    };
  };
  const seen = (hour: number, camera: CameraOrientation) =>
    seenRound(balls, { readings: [toward(hour)], camera });
  it('are turned back by the camera’s orientation', () => {
    // Turned 90° clockwise, what stood at 12 o’clock stands at 3; mirrored, what stood at 9 does.
    const plain = seen(12, PLAIN_ORIENTATION);
    const turned = seen(3, { ...PLAIN_ORIENTATION, turned: 90 });
    const moves = [
      plain,
      turned,
      seen(9, PLAIN_ORIENTATION),
      seen(3, { ...PLAIN_ORIENTATION, mirrored: true }),
    ].map((one) =>
      'round' in one ? [...one.round.steering.references[0]!.candidates[0]!.solution.unknowns] : [],
    );
    expect(moves[0]).toHaveLength(3);
    expect(moves[1]).toEqual(moves[0]!.map((part) => expect.closeTo(part, 9)));
    expect(moves[3]).toEqual(moves[2]!.map((part) => expect.closeTo(part, 9)));
    expect(Math.hypot(...moves[0]!.map((part, k) => part - moves[2]![k]!))).toBeGreaterThan(1e-4);
  });

  it('of a line focus toward where it shows no tilt are told, with the entry', () => {
    const [first] = design.patches;
    const hours = [3, 12].map((hour) => {
      const reading = { ...toward(hour), patch: first!.id, fringes: [1] } as BenchReading;
      return seenRound(design, { readings: [reading], camera: PLAIN_ORIENTATION });
    });
    const told = hours.flatMap((one) => ('findings' in one ? one.findings : []));
    expect(told).toMatchObject([{ rule: 'bad-value', path: ['readings', 0, 'toward'] }]);
  });
});

describe('the change from round to round', () => {
  const DRAWS = 60;
  const changes = Array.from({ length: DRAWS }, () =>
    changeBetween(design, round(noisy(exact)), round(noisy(exact)), NOTHING_ANEW),
  );
  it('scatters by its stated uncertainty where nothing moved', () => {
    for (let degree = 0; degree < 6; degree++) {
      const spread = Math.sqrt(changes.reduce((sum, { change }) => sum + change[degree]! ** 2, 0) / DRAWS);
      // Of 60 draws the spread is known to 1/√120 = 9 %: three times that.
      expect(spread / changes[0]!.sigma[degree]!).toBeGreaterThan(0.73);
      expect(spread / changes[0]!.sigma[degree]!).toBeLessThan(1.27);
    }
  });

  it('is called significant in about one of twenty rounds in which nothing moved, and has probabilities spread evenly', () => {
    // Binomial, p = 0.05: 3 expected of 60, more than 9 once in a thousand.
    expect(changes.filter(({ significant }) => significant).length).toBeLessThanOrEqual(9);
    const mean = changes.reduce((sum, { probability }) => sum + probability, 0) / DRAWS;
    // Uniform: 0.5 ± 0.289/√60.
    expect(Math.abs(mean - 0.5)).toBeLessThan(3.3 * (0.2887 / Math.sqrt(DRAWS)));
    expect(changes[0]!.degreesOfFreedom).toBe(6);
  });

  it('is significant when the part moves by five of its uncertainties along any one degree', () => {
    for (let degree = 0; degree < 6; degree++) {
      const by = 5 * changes[0]!.sigma[degree]!;
      const at = (k: number): number => (k === degree ? by : 0);
      const displaced = { translation: [at(0), at(1), at(2)], rotation: [at(3), at(4), at(5)] } as const;
      const found = changeBetween(design, still, round(bench.read(displaced, 0)), NOTHING_ANEW);
      expect(found.significant).toBe(true);
      expect(found.change[degree]! / by).toBeCloseTo(1, 3);
    }
  });

  it('has twice the variance of one round’s readings: what both rounds share cancels', () => {
    for (let degree = 0; degree < 6; degree++) {
      const readings = still.part.pose.readings.reduce(
        (sum, { u }, k, all) => sum + (still.part.pose.full.gains[degree * all.length + k]! * u) ** 2,
        0,
      );
      expect(changes[0]!.sigma[degree]! ** 2 / (2 * readings)).toBeCloseTo(1, 9);
    }
  });

  it('by reseating has twice the variance besides that the budget books to nests, apices and balls', () => {
    const anew = changeBetween(design, still, still, RESEATED);
    const { variances } = still.part.pose.full;
    for (let degree = 0; degree < 6; degree++) {
      const booked = [...RESEATED].reduce((sum, term) => sum + (variances.get(term)?.[degree] ?? 0), 0);
      const more = anew.sigma[degree]! ** 2 - changes[0]!.sigma[degree]! ** 2;
      expect(booked).toBeGreaterThan(0);
      expect(more / (2 * booked)).toBeCloseTo(1, 6);
    }
  });

  it('between unlike sets of readings counts the errors that no longer cancel', () => {
    const fewer = round(exact.filter((one) => one.kind === 'fringes' && !one.patch.startsWith('east')));
    const { sigma, change } = changeBetween(design, still, fewer, NOTHING_ANEW);
    const own = [still, fewer].map(({ part: { pose } }) =>
      pose.readings.reduce((sum, { u }, k, all) => sum + (pose.full.gains[2 * all.length + k]! * u) ** 2, 0),
    );
    if (change[2] !== undefined) expect(sigma[2]! ** 2).toBeGreaterThan(own[0]! + own[1]!);
    expect(change.some((part) => part !== undefined)).toBe(true);
  });
});

describe('what is left in the figure', () => {
  const mirror = exampleDesign('freeform-mirror');
  const pose = poseOf(mirror);
  const placed = (six: readonly number[]): Round => {
    const nothing = { displacement: STILL, sigma: [], combined: [], covariance: new Float64Array(36) };
    return {
      part: { pose } as Round['part'],
      place: { ...nothing, six, observed: six.map(() => true) },
    };
  };
  it('of a part at its design place is what the design’s own readings leave', () => {
    const { expected, secondOrder } = figureError(mirror)!;
    const left = figureLeft(mirror, placed([0, 0, 0, 0, 0, 0]))!;
    expect(left).toMatchObject({ place: 0, placeSecondOrder: 0, uncertainty: { expected, secondOrder } });
    expect(left.together).toBeCloseTo(Math.hypot(expected!, secondOrder!), 15);
  });

  it('of a displaced part has the map of that motion besides, and in the second order goes with its square', () => {
    const { maps } = motionMaps(mirror)!;
    maps.forEach(({ left: perUnit }, degree) => {
      // 10 µm, 10 µrad.
      const at = (size: number) => figureLeft(mirror, placed(maps.map((_, k) => (k === degree ? size : 0))))!;
      const [once, twice] = [at(0.01), at(0.02)];
      expect(once.place).toBeCloseTo(0.01 * perUnit, 12);
      expect(twice.placeSecondOrder / once.placeSecondOrder).toBeCloseTo(4, 6);
      expect(once.together!).toBeGreaterThanOrEqual(once.place);
    });
  });

  it('is none where the scenario names no surface under test', () => {
    expect(figureLeft(design, still)).toBeUndefined();
  });
});

describe('other air', () => {
  /** A zone plate in collimated light: f ∝ 1/λ, so that the ball then stands κf beyond its focus. */
  const FOCAL = 200;
  const plate = designFrom({
    light: {
      vacuumWavelength: '632.99 nm',
      air: { temperature: '20 degC', pressure: '1013.25 hPa', humidity: 0.5 },
    },
    interferometer: { collimated: true },
    part: { origin: [0, 0, FOCAL] },
    references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: [0, 0, 0], frame: 'part' }],
    patches: [pointPatch('p', 'b', [0, 0])],
  });
  const pose = estimatePose(plate);

  // dn/dT = −0.93e-6 per K and dn/dp = 2.68e-9 per Pa near 20 °C: from memory, and the usual rule of thumb.
  test.each([
    ['1 K warmer', { temperature: 21, pressure: undefined }, 0.93e-6],
    ['10 hPa lower', { temperature: undefined, pressure: 100325 }, 2.68e-6],
    ['as designed', { temperature: 20, pressure: 101325 }, 0],
  ])('%s: the wavelength, and the ball seems to stand beyond its focus', (_, air, kappa) => {
    const { wavelength, apparent } = airChange(plate, pose, air)!;
    expect(Math.abs(wavelength - kappa)).toBeLessThan(0.03 * kappa + 1e-12);
    // The part's z runs with the light; a 10 mm patch at 200 mm is paraxial to a per cent.
    expect(Math.abs(apparent[2]! - wavelength * FOCAL)).toBeLessThan(0.02 * kappa * FOCAL + 1e-12);
    for (const across of [apparent[0]!, apparent[1]!]) expect(Math.abs(across)).toBeLessThan(1e-9);
  });

  it('is not worked out where the scenario states none, nothing was measured, or the formula ends', () => {
    const air = { temperature: 21, pressure: undefined };
    expect(airChange(design, still.part.pose, air)).toBeUndefined();
    expect(airChange(plate, pose, { temperature: undefined, pressure: undefined })).toBeUndefined();
    expect(airChange(plate, pose, { temperature: 120, pressure: undefined })).toBeUndefined();
  });
});
