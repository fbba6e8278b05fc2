/**
 * How `steer` judges whether readings agree: χ² against a least-squares fit worked out here from the senses of the patches, with as many
 * degrees of freedom as readings less what they see, its probability and its verdict at printed quantiles.
 *
 * mm; a reading of N fringes is a move N λs/(2D) along ê = ℓ̂ × û, D the patch's width along ê as seen square to û. References that touch a
 * plane and a cylinder may slide along the rim: each slide is an unknown more. Every error but that of reading is stated as next to nothing.
 */
import { describe, expect, it } from 'vitest';
import { EXACT_BEAM, EXACT_LIGHT } from '../independent/exact-bench.ts';
import { normalDeviates } from '../independent/random.ts';
import { dot, minus, normed, size, type Vector } from '../independent/ray.ts';
import { leastSquares, QUANTILES } from './support/chi-squared.ts';
import { fileOf, json, type Words } from './support/command.ts';

interface Consistency {
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly probability: number;
  readonly contradictory: boolean;
}

interface Answer {
  readonly part: { readonly consistency: Consistency };
  readonly references: readonly { readonly id: string; readonly consistency: Consistency }[];
}

const WAVELENGTH = 632.8e-6;
const FAR = 1000;
const RIM = 240;
const SMR = 38.1;
const WIDTH = 10;
/** Stated for each reading, fringes: far more than all other errors, and little enough for first order. */
const READ_TO = 0.25;

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const turn = (degrees: number): readonly [number, number] => [
  Math.cos((degrees * Math.PI) / 180),
  Math.sin((degrees * Math.PI) / 180),
];

/** Retroreflectors round the rim, on the side of the face that looks at the hologram. */
const placeAt = (azimuth: number): Vector => {
  const [c, s] = turn(azimuth);
  const out = (RIM + SMR) / 2;
  return [out * c, out * s, FAR - SMR / 2];
};

interface Seen {
  readonly azimuth: number;
  readonly centre: readonly [number, number];
  readonly lineAngle: number;
}

/** A row in x, y, z, rx, ry, rz (about the part's origin), and what one fringe is worth. */
function sense({ azimuth, centre, lineAngle }: Seen): {
  readonly row: readonly number[];
  readonly perFringe: number;
} {
  const at = placeAt(azimuth);
  const ray = minus(at, [...centre, 0]);
  const chief = normed(ray);
  const [c, s] = turn(lineAngle);
  const along = dot([c, s, 0], chief);
  const line = normed(minus([c, s, 0], chief.map((value) => value * along) as unknown as Vector));
  const across = cross(line, chief);
  // The patches are squares along x and y.
  const width = WIDTH * (Math.abs(across[0]) + Math.abs(across[1]));
  const arm = minus(at, [0, 0, FAR]);
  return {
    row: [...across, ...cross(arm, across)],
    perFringe: (WAVELENGTH * size(ray)) / (2 * width),
  };
}

const AZIMUTHS = [80, 205, 320];
const seenFrom = (azimuth: number, count: number): Seen[] =>
  (
    [
      [58, 10, 90],
      [-52, 20, 90],
      [8, 55, 0],
      [-20, -54, 30],
    ] as const
  )
    .slice(0, count)
    .map(([x, y, lineAngle]) => ({ azimuth, centre: [x, y], lineAngle }));

interface Bench {
  readonly name: string;
  readonly seen: readonly Seen[];
  readonly touching: boolean;
  /** Of the part's answer and, where a single reference is read more often than it has coordinates, of that. */
  readonly freedom: number;
  readonly ofReference?: number;
  /** The readings and a length along x of the first reference, measured to 0.1 mm. */
  readonly measured?: true;
}

const BENCHES: readonly Bench[] = [
  {
    name: 'three mounted retroreflectors, nine readings of six degrees',
    seen: AZIMUTHS.flatMap((azimuth) => seenFrom(azimuth, 3)),
    touching: false,
    freedom: 3,
  },
  {
    name: 'twelve readings of six degrees, four of each retroreflector’s three',
    seen: AZIMUTHS.flatMap((azimuth) => seenFrom(azimuth, 4)),
    touching: false,
    freedom: 6,
    ofReference: 1,
  },
  {
    name: 'a length measured besides counts as a reading',
    seen: AZIMUTHS.flatMap((azimuth) => seenFrom(azimuth, 3)),
    touching: false,
    freedom: 4,
    ofReference: 1,
    measured: true,
  },
  {
    name: 'one mounted retroreflector, whose four readings see three combinations of the six degrees',
    seen: seenFrom(80, 4),
    touching: false,
    freedom: 1,
    ofReference: 1,
  },
  {
    name: 'three that slide along the rim: nine unknowns, and the turn about the axis is seen by none',
    seen: AZIMUTHS.flatMap((azimuth) => seenFrom(azimuth, 3)),
    touching: true,
    freedom: 1,
  },
];

const ids = (seen: readonly Seen[]): readonly string[] => seen.map(({ azimuth }, k) => `p${k}-${azimuth}`);

function scenario({ seen, touching, measured }: Bench): Words {
  const azimuths = [...new Set(seen.map(({ azimuth }) => azimuth))];
  const exact = { centring: '1e-6 um', form: '1e-6 um', radiusTolerance: '1e-6 um' };
  return {
    light: EXACT_LIGHT,
    interferometer: {
      ...EXACT_BEAM,
      focus: [0, 0, 1300],
      fNumber: 8,
      pixelsAcrossBeam: 100_000,
      readable: 1e-4,
    },
    process: { minFeature: 1e-4, placement: '1e-4 um' },
    part: {
      origin: [0, 0, FAR],
      datums: {
        A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
        B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: RIM, side: 'outside' } },
      },
    },
    references: azimuths.map((azimuth) => ({
      id: `r${azimuth}`,
      kind: 'smr',
      diameter: SMR,
      ...exact,
      ...(touching
        ? { touches: [{ datum: 'B', azimuth: `${azimuth} deg` }, { datum: 'A' }] }
        : { at: placeAt(azimuth), nest: '1e-6 um' }),
    })),
    patches: seen.map(({ azimuth, centre, lineAngle }, k) => ({
      id: ids(seen)[k],
      reference: `r${azimuth}`,
      focus: 'line',
      centre,
      lineAngle,
      outline: { rectangle: { width: WIDTH, height: WIDTH } },
    })),
    measurements: measured
      ? [{ id: 'spacer', reference: `r${azimuths[0]}`, direction: [1, 0, 0], uncertainty: 0.1 }]
      : [],
  };
}

async function judged(bench: Bench, errors: readonly number[]): Promise<Answer> {
  const readings: Words[] = ids(bench.seen).map((patch, k) => ({
    patch,
    fringes: READ_TO * errors[k]!,
    uncertainty: READ_TO,
  }));
  if (bench.measured) readings.push({ measurement: 'spacer', deviation_um: 100 * errors.at(-1)! });
  const args = ['steer', fileOf(scenario(bench)), '--readings', '-'];
  return json<Answer>(args, JSON.stringify({ readings }));
}

/** Errors over their standard uncertainties in; rows over the same. */
function expected({ seen, touching, measured }: Bench, errors: readonly number[]) {
  const azimuths = [...new Set(seen.map(({ azimuth }) => azimuth))];
  const rows = seen.map((each) => {
    const { row, perFringe } = sense(each);
    const [c, s] = turn(each.azimuth);
    const slides = azimuths.map((azimuth) =>
      azimuth === each.azimuth ? dot(row.slice(0, 3) as unknown as Vector, [-s, c, 0]) : 0,
    );
    return [...row, ...(touching ? slides : [])].map((value) => value / (READ_TO * perFringe));
  });
  if (measured) {
    const arm = minus(placeAt(azimuths[0]!), [0, 0, FAR]);
    rows.push([1, 0, 0, ...cross(arm, [1, 0, 0])].map((value) => value / 0.1));
  }
  // Rotations in units of a mm at the rim, so that ranks are told apart.
  return leastSquares(
    rows.map((row) => row.map((value, k) => (k >= 3 && k < 6 ? value / RIM : value))),
    errors,
  );
}

/** Relative: what wavelength, air and glass still add, and the exact trace against first order. One degree of freedom more or less is a tenth at least. */
const TOLERANCE = 5e-3;

describe.each(BENCHES)('$name', (bench) => {
  const count = bench.seen.length + (bench.measured ? 1 : 0);
  const random = normalDeviates(11);
  const errors = Array.from({ length: count }, random);
  const { chiSquared, rank } = expected(bench, errors);
  const withChiSquared = (value: number): Promise<Answer> =>
    judged(
      bench,
      errors.map((error) => error * Math.sqrt(value / chiSquared)),
    );
  const { p05, p001 } = QUANTILES[bench.freedom]!;

  it(`${bench.freedom} degrees of freedom and the χ² of an independent fit`, async () => {
    expect(count - rank).toBe(bench.freedom);
    const { part, references } = await judged(bench, errors);
    expect(part.consistency.degreesOfFreedom).toBe(bench.freedom);
    expect(Math.abs(part.consistency.chiSquared / chiSquared - 1)).toBeLessThan(TOLERANCE);
    expect(references[0]!.consistency.degreesOfFreedom).toBe(bench.ofReference ?? 0);
  });

  it('has the printed probability at the printed quantile', async () => {
    const { part } = await withChiSquared(p05);
    expect(Math.abs(part.consistency.probability / 0.05 - 1)).toBeLessThan(5 * TOLERANCE);
  });

  it('contradicts itself just above the quantile of a thousandth, and not just below', async () => {
    for (const [by, contradictory] of [
      [1.02, true],
      [0.98, false],
    ] as const)
      expect((await withChiSquared(by * p001)).part.consistency).toMatchObject({ contradictory });
  });
});
