/**
 * Where references are known to be, worked out a second time: what each reading shows of each motion and of each error by rays traced
 * out and home with that thing really off, and the best estimate of correlated readings by textbook matrices. Nothing of the program's
 * own rows, effects or gains comes in; what it states has to agree.
 */
import { describe, expect, it } from 'vitest';
import type { Term } from '../../src/metrology/budget/error-source.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { estimateReferences } from '../../src/metrology/estimate/reference-estimate.ts';
import { designedPhase, periodOf, type Surroundings } from '../independent/designed-phase.ts';
import { bestEstimate } from '../independent/equations.ts';
import { EXACT_PRACTICE } from '../independent/exact-bench.ts';
import { change, changesByMove, type Off, type ReadPatch, reader } from '../independent/patch-reading.ts';
import { designFrom, type Words } from './support/design-from.ts';

const AROUND: Surroundings & { readonly focus: readonly [number, number, number] } = {
  wavelength: 632.8e-6,
  focus: [0, 0, -500],
};
const SMR = [40, 20, 900] as const;
const BALL = [-40, 30, 180] as const;
const READABLE = 0.1;
/** Large enough to count beside the readings, each of them. */
const PLACEMENT = 0.5e-3;
const WAVELENGTH = 1e-5;
const CENTRING = 6e-3;
const FORM = 2e-3;
const KELVIN = 0.5;
/** Of a substrate without a glass, as of crown glass, 1/K: the larger of the usual two. */
const EXPANSION = 7.1e-6;
const PRACTICE = {
  ...COMMON_PRACTICE,
  apexCentring: CENTRING,
  form: FORM,
  laserWavelength: WAVELENGTH,
  glassTemperature: KELVIN,
  // What the beam and the air do has tests of its own.
  ...EXACT_PRACTICE,
  ...{ alignmentReading: 0, airTemperature: 0, airPressure: 0, airHumidity: 0 },
};

const line = (id: string, centre: readonly [number, number], degrees: number, order = 1): ReadPatch => ({
  ...{ id, centre, order, target: SMR, lineAngle: (degrees * Math.PI) / 180 },
  outline: { shape: 'rectangle', centre, width: 10, height: 10, rotation: 0 },
});
const point = (id: string, centre: readonly [number, number], order = 1): ReadPatch => ({
  ...{ id, centre, order, target: BALL, radius: 6.35 },
  outline: { shape: 'circle', centre, radius: 4 },
});
const SEEN = {
  smr: [
    line('a', [0, 60], 90),
    line('b', [52, -30], 60, -1),
    line('c', [-52, -30], 150, 2),
    line('d', [20, -60], 0),
  ],
  ball: [point('e', [-30, 10]), point('f', [-55, 20], -1)],
} as const;

const words = ({ id, centre, order, lineAngle }: ReadPatch): Words => ({
  ...{ id, centre, order },
  ...(lineAngle === undefined
    ? { reference: 'ball', focus: 'point', outline: { circle: { diameter: 8 } } }
    : {
        ...{ reference: 'smr', focus: 'line', outline: { rectangle: { width: 10, height: 10 } } },
        lineAngle: (lineAngle * 180) / Math.PI,
      }),
});
const design = designFrom({
  process: { placement: `${PLACEMENT} mm` },
  references: [
    { id: 'smr', kind: 'smr', diameter: 38.1, at: SMR },
    { id: 'ball', kind: 'ball', diameter: 12.7, at: BALL },
  ],
  patches: [...SEEN.smr, ...SEEN.ball].map(words),
});
const estimates = estimateReferences(design, PRACTICE);

/** An error that several readings share: what it is booked to, and the fringes of each for one standard deviation. */
interface Shared {
  readonly term: string;
  readonly fringes: readonly number[];
}

/** Rows of x, y and z, the errors that readings share, and each reading's own, in fringes, by tracing. */
function traced(patches: readonly ReadPatch[], own: string, offset: number) {
  const readers = patches.map((patch) => reader(AROUND, patch));
  const rows = readers.flatMap((read) => changesByMove(read));
  const owners = readers.flatMap((read, k) => read({}).map(() => k));
  /** One cause in all patches alike, or in one of them. */
  const cause = (
    term: string,
    off: (by: number) => Off,
    step: number,
    sigma: number,
    only?: number,
  ): Shared => {
    const changes = readers.flatMap((read) => change(read, off, step));
    return {
      term,
      fringes: changes.map((each, k) => (only === undefined || owners[k] === only ? each * sigma : 0)),
    };
  };
  const offsets = [0, 1, 2].map(
    (axis): Shared => ({ term: own, fringes: rows.map((row) => row[axis]! * (offset / Math.sqrt(3))) }),
  );
  // One edge of a patch against the other, or its edge against its middle: mε/S waves, seen twice; each reading by itself.
  const edges = rows.map((_, k): Shared => {
    const patch = patches[owners[k]!]!;
    const period = periodOf(designedPhase(AROUND, patch), ...patch.centre);
    const fringes = (2 * Math.abs(patch.order ?? 1) * PLACEMENT) / period;
    return { term: 'pattern placement', fringes: rows.map((__, j) => (j === k ? fringes : 0)) };
  });
  const shared = [
    ...offsets,
    ...edges,
    cause('laser wavelength', (by) => ({ wavelength: by }), 1e-6, WAVELENGTH),
    cause('glass expansion', (by) => ({ growth: by }), 1e-6, EXPANSION * KELVIN),
    ...patches.flatMap((_, k) => [
      cause('pattern placement', (by) => ({ shift: [by, 0] }), 1e-4, PLACEMENT, k),
      cause('pattern placement', (by) => ({ shift: [0, by] }), 1e-4, PLACEMENT, k),
    ]),
  ];
  const noise = rows.map((_, k): Shared => {
    return { term: 'reading', fringes: rows.map((__, j) => (j === k ? READABLE : 0)) };
  });
  return { rows, noise, errors: [...noise, ...shared] };
}

/** V of all of them together. */
const covarianceOf = (errors: readonly Shared[]): number[][] =>
  errors[0]!.fringes.map((_, i) =>
    errors[0]!.fringes.map((__, j) =>
      errors.reduce((sum, { fringes }) => sum + fringes[i]! * fringes[j]!, 0),
    ),
  );

/** Of σ: the finite patch, second order in moves and angles. */
const CLOSE = 0.003;

describe.each([
  ['smr', 0, 'apex centring', CENTRING],
  ['ball', 1, 'ball form', FORM],
] as const)('%s', (kind, index, own, offset) => {
  const { rows, noise, errors } = traced(SEEN[kind], own, offset);
  const program = estimates[index]!;
  const second = {
    stated: bestEstimate(rows, covarianceOf(noise)),
    full: bestEstimate(rows, covarianceOf(errors)),
  };

  it.each(['stated', 'full'] as const)('has the same covariance of x, y and z: %s', (which) => {
    const expected = second[which].covariance;
    const sigma = expected.map((row, k) => Math.sqrt(row[k]!));
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        const off = program[which].covariance[i * 3 + j]! - expected[i]![j]!;
        expect(Math.abs(off)).toBeLessThan(2 * CLOSE * sigma[i]! * sigma[j]!);
      }
  });

  it.each(['reading', own, 'pattern placement', 'laser wavelength', 'glass expansion'])(
    'books the same to %s',
    (term) => {
      const { covariance, gains } = second.full;
      let share = 0;
      for (let axis = 0; axis < 3; axis++) {
        const parts = errors
          .filter((error) => error.term === term)
          .map(({ fringes }) => fringes.reduce((sum, each, k) => sum + gains[axis]![k]! * each, 0));
        const expected = parts.reduce((sum, part) => sum + part * part, 0);
        const found = program.full.variances.get(term as Term)![axis]!;
        expect(Math.abs(found - expected)).toBeLessThan(
          2 * CLOSE * expected + 1e-5 * covariance[axis]![axis]!,
        );
        share = Math.max(share, expected / covariance[axis]![axis]!);
      }
      // Large enough to be seen at all.
      expect(share).toBeGreaterThan(1e-3);
    },
  );
});
