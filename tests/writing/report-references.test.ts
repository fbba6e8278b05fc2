/**
 * Where references, part and seats stand and how well that is known, as report.json says it, against covariances worked out by normal
 * equations from the scene's words: u = rλs/(2D) of a reading across the width D, rλ(2s/D)² of one by power. µm, µrad as the keys say.
 */
import { describe, expect, test } from 'vitest';
import type { Place } from '../independent/fermat.ts';
import { type PlainReading, plainCovariance } from '../independent/normal-equations.ts';
import {
  chiefRayOf,
  fromPart,
  inner,
  outer,
  type PatchWords,
  placeFromPart,
  plus,
  unit,
} from '../independent/scene.ts';
import { incidentPath, slopeOf } from '../independent/scene-phase.ts';
import { distanceIn, seenWidth, sensesIn } from '../independent/scene-senses.ts';
import { closeTo, within } from './support/figures.ts';
import { DEGREES, reportOfScene } from './support/made-report.ts';
import {
  CENTRING,
  DUTY_CYCLE,
  F_NUMBER,
  FOCUS,
  READABLE,
  REPORT_SCENE,
  SEATS,
  SPACER,
} from './support/report-scene.ts';

const { report } = reportOfScene(REPORT_SCENE);
const WAVELENGTH = REPORT_SCENE.light.wavelength;
const UM = 1000;
const AXES: readonly Place[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

const placeOf = (id: string): Place => {
  const { at = [0, 0, 0], frame } = REPORT_SCENE.references.find((reference) => reference.id === id)!;
  return frame === 'part' ? placeFromPart(REPORT_SCENE, at) : at;
};

/** The readings of one patch as directions and uncertainties, mm. */
function readingsOf(patch: PatchWords): { direction: Place; u: number }[] {
  const s = distanceIn(REPORT_SCENE, patch);
  const senses = sensesIn(REPORT_SCENE, patch);
  const widths = senses.slice(0, 2).map((sense) => seenWidth(patch, sense));
  return senses.map((direction, k) => ({
    direction,
    u:
      k < 2
        ? (READABLE * WAVELENGTH * s) / (2 * widths[k]!)
        : READABLE * WAVELENGTH * ((2 * s) / Math.max(...widths)) ** 2,
  }));
}

const READ = ['near', 'left', 'right', 'top'];
const readingsBy = (id: string): { direction: Place; u: number }[] => [
  ...REPORT_SCENE.patches.filter(({ reference }) => reference === id).flatMap(readingsOf),
  ...(id === 'left' ? [{ direction: AXES[2]!, u: SPACER }] : []),
];
const plain = (found: { direction: Place; u: number }[]): PlainReading[] =>
  found.map(({ direction, u }) => ({ row: direction, u }));

/** Widths of round patches are taken from 720 points of their edges here. */
const ROUND = 2e-5;

/** Entries against wanted ones, to a part of the two sigmas that they are of. */
function expectCovariance(
  found: readonly (readonly (number | null)[])[],
  wanted: readonly (readonly number[])[],
  scales: readonly number[],
): void {
  const sigma = wanted.map((row, i) => Math.sqrt(row[i]!) * scales[i]!);
  wanted.forEach((row, i) => {
    row.forEach((entry, j) => {
      const miss = found[i]![j]! - entry * scales[i]! * scales[j]!;
      expect(Math.abs(miss), `${i} ${j}`).toBeLessThan(ROUND * sigma[i]! * sigma[j]!);
    });
  });
}
const IN_UM = [UM, UM, UM];

describe.each(report.references.map((row) => [row.id, row] as const))('reference %s', (id, row) => {
  const words = REPORT_SCENE.references.find((reference) => reference.id === id)!;

  test.runIf(words.at !== undefined)('stands where the scene has it', () => {
    closeTo(row.at, placeOf(id));
  });

  test('has σ and covariance by its readings and by the length measured, or none where something is unseen', () => {
    if (!READ.includes(id)) {
      expect(Object.values(row.sigma_um)).toEqual([null, null, null]);
      return;
    }
    const covariance = plainCovariance(plain(readingsBy(id)));
    expectCovariance(row.covariance_um2, covariance, IN_UM);
    (['x', 'y', 'z'] as const).forEach((axis, k) => {
      within(row.sigma_um[axis], UM * Math.sqrt(covariance[k]![k]!), ROUND, axis);
    });
    for (const { direction, sigma_um } of row.ellipsoid) {
      const along = covariance.map((line) => inner(line as unknown as Place, direction));
      within(sigma_um, UM * Math.sqrt(inner(along as unknown as Place, direction)), ROUND);
    }
  });

  test('has a budget whose terms make its whole, with what a cube’s centring alone must come to', () => {
    const { combined, simulated, terms, trials } = row.budget_um;
    expect(trials).toBeGreaterThan(1000);
    for (const axis of ['x', 'y', 'z'] as const) {
      if (!READ.includes(id)) {
        expect(combined[axis]).toBeNull();
        continue;
      }
      within(combined[axis], Math.hypot(...terms.map(({ by }) => by[axis]!)), 1e-9, axis);
      expect(combined[axis]!).toBeGreaterThan(row.sigma_um[axis]! * (1 - 1e-9));
      const { sigma, samplingError } = simulated[axis]!;
      expect(Math.abs(sigma - combined[axis]!)).toBeLessThan(4 * samplingError);
      // An offset that all patches see alike goes into the place as it is: ±a as a rectangle is a/√3.
      const centring = terms.find(({ term }) => term === 'apex centring')?.by[axis];
      if (id === 'right' || id === 'top') within(centring!, (UM * CENTRING) / Math.sqrt(3), 1e-6);
      if (id === 'near') expect(centring).toBeUndefined();
    }
  });

  test('has the glass that can serve it, by the light’s cosines at each place', () => {
    const { order, shareOfFreeGlass, finestFeature_um, coarsestFeature_um } = row.reach;
    const orders = REPORT_SCENE.patches.filter(({ reference }) => reference === id);
    expect(order).toBe(Math.max(...orders.map((patch) => Math.abs(patch.order ?? 1))));
    const features = freeGlass().map(
      ([x, y]) => featureToward(words.kind === 'return' ? undefined : placeOf(id), x, y) * order,
    );
    const { minFeature } = REPORT_SCENE.process as { minFeature: number };
    const served = features.filter((feature) => feature >= minFeature).length / features.length;
    expect(Math.abs(shareOfFreeGlass - served)).toBeLessThan(0.03);
    within(finestFeature_um, UM * Math.min(...features), 0.03);
    expect(coarsestFeature_um).toBeGreaterThan(finestFeature_um);
  });
});

/** Places over the lit glass, which nothing takes up. */
function freeGlass(): [number, number][] {
  const lit = Math.abs(FOCUS[2]) / (2 * F_NUMBER);
  const steps = Array.from({ length: 80 }, (_, k) => -85 + (170 * (k + 0.5)) / 80);
  return steps
    .flatMap((x) => steps.map((y): [number, number] => [x, y]))
    .filter(([x, y]) => Math.hypot(x, y) < 85 && Math.hypot(x - FOCUS[0], y - FOCUS[1]) < lit);
}

/** The narrower of line and gap of a pattern of order 1 that sends light from there to a place, or back on itself; mm. */
function featureToward(place: Place | undefined, x: number, y: number): number {
  const [px, py] = slopeOf((u, v) => incidentPath(REPORT_SCENE)([u, v, 0]), x, y);
  const [ox, oy] = place === undefined ? [-px, -py] : unit(plus(place, [x, y, 0], -1));
  return (Math.min(DUTY_CYCLE, 1 - DUTY_CYCLE) * WAVELENGTH) / Math.hypot(ox - px, oy - py);
}

test('cubes face the mean of their patches, or as the scene says, and take light within what it says', () => {
  for (const { id, cube } of report.references) {
    const words = REPORT_SCENE.references.find((reference) => reference.id === id)!;
    if (words.kind !== 'smr') {
      expect(cube).toBeNull();
      continue;
    }
    const patches = REPORT_SCENE.patches.filter(({ reference }) => reference === id);
    const mean = patches.map((patch) => chiefRayOf(REPORT_SCENE, patch)).reduce((a, b) => plus(a, b));
    closeTo(cube!.axis, unit((words.axis as Place | undefined) ?? plus([0, 0, 0], mean, -1)));
    expect(cube!.axisGiven).toBe(words.axis !== undefined);
    expect(cube!.rollGiven).toBe(words.roll !== undefined);
    if (words.roll !== undefined) expect(cube!.roll_deg).toBeCloseTo(words.roll as number, 9);
    expect(cube!.acceptance_deg).toBeCloseTo((words.acceptance as number | undefined) ?? 30, 9);
  }
});

describe('the part', () => {
  const origin = REPORT_SCENE.part!.origin!;
  const axes = AXES.map((axis) => fromPart(REPORT_SCENE, axis));
  const inPart = (direction: Place): Place => axes.map((axis) => inner(axis, direction)) as unknown as Place;
  /** δ = T + θ × r in its own frame, about its origin. */
  const rowOf = (direction: Place, at: Place): number[] => [
    ...inPart(direction),
    ...outer(inPart(plus(at, origin, -1)), inPart(direction)),
  ];
  // The small retroreflector's mouth takes in a fifth of its patch's line: too little to be read.
  const readings = READ.flatMap((id) =>
    readingsBy(id).map(({ direction, u }) => ({ row: rowOf(direction, placeOf(id)), u })),
  );
  const covariance = plainCovariance(readings);
  const scales = [UM, UM, UM, 1e6, 1e6, 1e6];

  test('has σ and covariance in µm and µrad by all readings', () => {
    expect(report.part.unobserved).toEqual([]);
    expectCovariance(report.part.covariance, covariance, scales);
    DEGREES.forEach((degree, k) => {
      within(report.part.sigma[degree], scales[k]! * Math.sqrt(covariance[k]![k]!), ROUND, degree);
    });
  });

  test('has a budget whose terms make its whole', () => {
    const { combined, simulated, terms } = report.part.budget;
    for (const degree of DEGREES) {
      within(combined[degree], Math.hypot(...terms.map(({ by }) => by[degree]!)), 1e-9, degree);
      expect(combined[degree]!).toBeGreaterThan(report.part.sigma[degree]!);
      const { sigma, samplingError } = simulated[degree]!;
      expect(Math.abs(sigma - combined[degree]!)).toBeLessThan(4 * samplingError);
    }
  });
});

describe('the seats’ frame', () => {
  const { seatFrame } = report;
  // No glass: both faces lie at z = 0; a sphere stands off by its radius, or as high as the scene says.
  const places = SEATS.map((seat): Place => {
    const height = 'height' in seat ? seat.height : seat.diameter / 2;
    return [seat.at[0], seat.at[1], seat.face === 'part' ? height : -height];
  });
  const rowsAt = (at: Place): number[][] => AXES.map((axis) => [...axis, ...outer(at, axis)]);
  const covariance = plainCovariance(
    places.flatMap((at, k) => rowsAt(at).map((row) => ({ row, u: SEATS[k]!.uncertainty }))),
  );
  /** σ along x, y and z at a place, µm. */
  const leverAt = (at: Place): number[] =>
    rowsAt(at).map((row) => {
      const variance = row.reduce(
        (sum, a, i) => sum + row.reduce((part, b, j) => part + a * covariance[i]![j]! * b, 0),
        0,
      );
      return UM * Math.sqrt(variance);
    });

  test('has the seats’ places and its own σ by them', () => {
    seatFrame.seats.forEach(({ id, at_mm, sigma_um }, k) => {
      expect(id).toBe(SEATS[k]!.id);
      closeTo(at_mm, places[k]!);
      expect(sigma_um).toBeCloseTo(UM * SEATS[k]!.uncertainty, 9);
    });
    DEGREES.forEach((degree, k) => {
      within(seatFrame.sigma[degree], (k < 3 ? UM : 1e6) * Math.sqrt(covariance[k]![k]!), 1e-6, degree);
    });
  });

  test('carries it to the references and to the part by the lever', () => {
    for (const { id, sigma_um, largest_um } of seatFrame.atReferences) {
      if (id === 'itself') continue;
      const wanted = leverAt(placeOf(id));
      (['x', 'y', 'z'] as const).forEach((axis, k) => {
        within(sigma_um[axis], wanted[k]!, 1e-6, `${id} ${axis}`);
      });
      expect(largest_um).toBeGreaterThan(Math.max(...wanted) - 1e-9);
      expect(largest_um).toBeLessThan(Math.hypot(...wanted) + 1e-9);
    }
    const atPart = leverAt(REPORT_SCENE.part!.origin!);
    (['x', 'y', 'z'] as const).forEach((axis, k) => {
      within(seatFrame.atPart.sigma_um[axis], atPart[k]!, 1e-6);
    });
  });
});
