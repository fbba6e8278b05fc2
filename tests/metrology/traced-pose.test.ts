/**
 * Where the part is known to be, worked out a second time: rays traced to references that a really moved part carries along, on datums
 * that hold them along their normals only; the best estimate by textbook matrices. Nothing of the program's own rows, effects or gains
 * comes in; what it states has to agree.
 */
import { describe, expect, it } from 'vitest';
import type { Term } from '../../src/metrology/budget/error-source.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { estimatePose } from '../../src/metrology/estimate/pose-estimate.ts';
import { bestEstimate } from '../independent/equations.ts';
import { EXACT_PRACTICE } from '../independent/exact-bench.ts';
import { changesByMove, type ReadPatch, reader } from '../independent/patch-reading.ts';
import { dot, type Vector } from '../independent/ray.ts';
import { designFrom, type Words } from './support/design-from.ts';

const AROUND = { wavelength: 632.8e-6, focus: [0, 0, -500] as Vector };
const DEG = Math.PI / 180;
const ORIGIN: Vector = [5, -10, 900];
const ANGLES = [3, -4, 30] as const;
const RIM = 120;
const RADIUS = 10;
const READABLE = 0.1;
const SPACER = 20e-3;
/** Half-widths large enough to count beside the readings, each of them, mm. */
const OFF = { apexCentring: 15e-3, form: 12e-3, smrRadius: 10e-3, nest: 8e-3 };
const PRACTICE = {
  ...{ ...COMMON_PRACTICE, ...OFF },
  // What beam, light and pattern do is in traced-estimate.test.ts and in tests of their own.
  ...EXACT_PRACTICE,
  ...{ alignmentReading: 0, airTemperature: 0, airPressure: 0, airHumidity: 0 },
  ...{ laserWavelength: 0, glassTemperature: 0 },
};

/** Intrinsic turns about x, then the new y, then the new z: R = Rx Ry Rz. */
function toSubstrate(v: Vector): Vector {
  const [a, b, c] = ANGLES.map((angle) => [Math.cos(angle * DEG), Math.sin(angle * DEG)] as const);
  const [x, y, z] = [v[0] * c![0] - v[1] * c![1], v[0] * c![1] + v[1] * c![0], v[2]];
  const [u, w] = [x * b![0] + z * b![1], z * b![0] - x * b![1]];
  return [u, y * a![0] - w * a![1], y * a![1] + w * a![0]];
}
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** A reference by its place and what holds it, part frame. */
interface Held {
  readonly id: string;
  readonly at: Vector;
  /** Outward normals of the datums that it touches; none: mounted where it is. */
  readonly normals: readonly Vector[];
  readonly slides: readonly Vector[];
  readonly words: Words;
}
const FACE: Vector = [0, 0, -1];
/** Against the rim and the face, which stands toward the hologram. */
const onRim = (id: string, degrees: number): Held => {
  const out: Vector = [Math.cos(degrees * DEG), Math.sin(degrees * DEG), 0];
  return {
    ...{ id, at: [(RIM + RADIUS) * out[0], (RIM + RADIUS) * out[1], -RADIUS] },
    ...{ normals: [out, FACE], slides: [[-out[1], out[0], 0]] },
    words: { touches: [{ datum: 'B', azimuth: degrees }, { datum: 'A' }] },
  };
};
const HELD: readonly Held[] = [
  onRim('north', 90),
  onRim('west', 205),
  onRim('east', 330),
  {
    ...{ id: 'face', at: [30, -20, -RADIUS], normals: [FACE] },
    slides: [
      [1, 0, 0],
      [0, 1, 0],
    ],
    words: { touches: [{ datum: 'A', x: 30, y: -20 }] },
  },
  {
    ...{ id: 'mounted', at: [-60, 50, -15], normals: [], slides: [] },
    words: { frame: 'part', at: [-60, 50, -15] },
  },
];
const placed = ({ at }: Held): Vector => {
  const [x, y, z] = toSubstrate(at);
  return [ORIGIN[0] + x, ORIGIN[1] + y, ORIGIN[2] + z];
};

/** Three line patches on each, their lines turned against one another. */
const PATCHES = HELD.flatMap((held, k) =>
  [0, 1, 2].map((n): ReadPatch & { readonly of: Held } => {
    const angle = (k * 72 + n * 21) * DEG;
    const centre = [(40 + 11 * n) * Math.cos(angle), (40 + 11 * n) * Math.sin(angle)] as const;
    return {
      ...{
        id: `${held.id}-${n}`,
        of: held,
        centre,
        target: placed(held),
        lineAngle: (15 + 31 * k + 62 * n) * DEG,
      },
      ...{ order: n === 1 ? -1 : 1 },
      outline: { shape: 'rectangle', centre, width: 8, height: 8, rotation: 0 },
    };
  }),
);
const design = designFrom({
  process: { placement: '1e-6 um' },
  part: {
    ...{ origin: ORIGIN, rotation: ANGLES },
    datums: {
      A: { plane: { point: [0, 0, 0], normal: FACE } },
      B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 2 * RIM, side: 'outside' } },
    },
  },
  references: HELD.map(({ id, words }) => ({ id, kind: 'smr', diameter: 2 * RADIUS, ...words })),
  patches: PATCHES.map(({ id, of, centre, lineAngle, order }) => ({
    ...{ id, reference: of.id, focus: 'line', centre, order, lineAngle: lineAngle! / DEG },
    outline: { rectangle: { width: 8, height: 8 } },
  })),
  measurements: [{ id: 'spacer', reference: 'face', direction: [0, 0, 1], uncertainty: `${SPACER} mm` }],
});
const program = estimatePose(design, PRACTICE);

/** What is read, each as a row of its reference's move in the substrate frame and its own σ: fringes, or mm of the spacer. */
const READ = [
  ...PATCHES.map((patch) => ({
    ...{ of: patch.of, isPatch: true, sigma: READABLE },
    byMove: changesByMove(reader(AROUND, patch))[0] as unknown as Vector,
  })),
  { of: HELD[3]!, isPatch: false, sigma: SPACER, byMove: [0, 0, 1] as Vector },
];

const SLIDES = HELD.flatMap((of) => of.slides.map((along) => ({ of, along })));
/** Of T and θ in the part frame about its origin, then of the slides. */
const rows = READ.map(({ of, byMove }) => [
  ...[0, 1, 2].map((k) => dot(byMove, toSubstrate(unit(k)))),
  ...[0, 1, 2].map((k) => dot(byMove, toSubstrate(cross(unit(k), of.at)))),
  ...SLIDES.map((slide) => (slide.of === of ? dot(byMove, toSubstrate(slide.along)) : 0)),
]);
function unit(k: number): Vector {
  return [+(k === 0), +(k === 1), +(k === 2)];
}

interface Shared {
  readonly term: string;
  readonly effects: readonly number[];
}
/** A reference off by a half-width along a direction of the substrate, as all that is read of it shows; `seen`: by light only. */
const off = (term: string, of: Held, along: Vector, half: number, seen = false): Shared => ({
  term,
  effects: READ.map((read) =>
    read.of === of && (read.isPatch || !seen) ? (dot(read.byMove, along) * half) / Math.sqrt(3) : 0,
  ),
});
const ownNoise = READ.map(({ sigma, isPatch }, k): Shared => {
  return {
    term: isPatch ? 'reading' : 'measured length',
    effects: READ.map((_, j) => (j === k ? sigma : 0)),
  };
});
const errors = [
  ...ownNoise,
  ...HELD.flatMap((of) => [
    ...[0, 1, 2].map((k) => off('apex centring', of, unit(k), OFF.apexCentring, true)),
    ...of.normals.map((normal) => off('ball form', of, toSubstrate(normal), OFF.form)),
    ...(of.normals.length === 0
      ? [0, 1, 2].map((k) => off('nest', of, unit(k), OFF.nest))
      : [off('ball radius', of, toSubstrate(sum(of.normals)), OFF.smrRadius)]),
  ]),
];
function sum(vectors: readonly Vector[]): Vector {
  return [0, 1, 2].map((k) => vectors.reduce((total, v) => total + v[k]!, 0)) as unknown as Vector;
}
const covarianceOf = (of: readonly Shared[]): number[][] =>
  READ.map((_, i) =>
    READ.map((__, j) => of.reduce((total, { effects }) => total + effects[i]! * effects[j]!, 0)),
  );

/** Of σ: the finite patch, second order in moves and angles. */
const CLOSE = 0.003;
const second = {
  stated: bestEstimate(rows, covarianceOf(ownNoise)),
  full: bestEstimate(rows, covarianceOf(errors)),
};

describe('the part on its rim, its face and a mounted reference', () => {
  it.each(['stated', 'full'] as const)('has the same covariance of its six degrees: %s', (which) => {
    const expected = second[which].covariance;
    const sigma = expected.map((row, k) => Math.sqrt(row[k]!));
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++) {
        const apart = program[which].covariance[i * 6 + j]! - expected[i]![j]!;
        expect(Math.abs(apart), `${i} ${j}`).toBeLessThan(2 * CLOSE * sigma[i]! * sigma[j]!);
      }
  });

  it.each(['reading', 'measured length', 'apex centring', 'ball form', 'ball radius', 'nest'])(
    'books the same to %s',
    (term) => {
      for (let degree = 0; degree < 6; degree++) {
        const parts = errors
          .filter((error) => error.term === term)
          .map(({ effects }) =>
            effects.reduce((total, each, k) => total + second.full.gains[degree]![k]! * each, 0),
          );
        const expected = parts.reduce((total, part) => total + part * part, 0);
        const found = program.full.variances.get(term as Term)![degree]!;
        const whole = second.full.covariance[degree]![degree]!;
        expect(Math.abs(found - expected)).toBeLessThan(2 * CLOSE * expected + 1e-5 * whole);
      }
    },
  );
});
