/**
 * How `transfer` judges whether tracked points agree: χ² against a least-squares fit of the six small motions worked out here, with 3n − 6
 * degrees of freedom, its probability and its verdict at printed quantiles, and against drawn points. mm.
 */
import { describe, expect, it, test } from 'vitest';
import { EXACT_BEAM, EXACT_LIGHT } from '../independent/exact-bench.ts';
import { normalDeviates } from '../independent/random.ts';
import { leastSquares, QUANTILES } from './support/chi-squared.ts';
import { fileOf, json, type Words } from './support/command.ts';

type Place = readonly [number, number, number];

interface Answer {
  readonly registrations: Readonly<
    Record<
      'hologram' | 'part',
      { readonly consistency: Consistency; readonly outliers: readonly string[] } | null
    >
  >;
}

interface Consistency {
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly probability: number;
  readonly contradictory: boolean;
}

const PLACES: readonly Place[] = [
  [200, 150, 1000],
  [-180, 140, 900],
  [-190, -160, 1050],
  [170, -150, 1100],
  [20, 230, 950],
  [-30, -240, 1020],
];
/** Of the tracker along its own axes, mm. */
const SIGMA: Place = [0.02, 0.035, 0.05];
/** Half-widths of rectangular distributions, mm: of the apex in its sphere and of the sphere in its nest. */
interface Seat {
  readonly centring: number;
  readonly nest: number;
}
/** Where the scenario says nothing: common practice, no source beyond the trade. */
const USUAL: Seat = { centring: 0.006, nest: 0.0025 };
const STATED: Seat = { centring: 0.03, nest: 0.02 };

/** Of a coordinate as the tracker finds it against where it should be. */
const uncertainties = ({ centring, nest }: Seat, sigma = SIGMA): Place =>
  sigma.map((u) => Math.hypot(u, centring / Math.sqrt(3), nest / Math.sqrt(3))) as unknown as Place;

/** The tracker stands turned by 90° about z, its x along the hologram's −y, and elsewhere. */
const seen = ([x, y, z]: Place): Place => [-y + 700, x - 300, z + 55];

type Side = 'hologram' | 'part';

/** What `transfer` says with these errors of the tracker's coordinates. */
async function judged(
  side: Side,
  errors: readonly Place[],
  stated: Partial<Seat> = {},
  more: Words = {},
  sigma: Place = SIGMA,
): Promise<Consistency> {
  const smr = { kind: 'smr', diameter: '1.5 in', ...stated };
  const references = errors.map((_, k) => ({ id: `r${k}`, at: PLACES[k]!, ...smr }));
  const rows = errors.map((error, k) => {
    const found = seen(PLACES[k]!).map((value, axis) => value + error[axis]!);
    return `r${k}@${side},${[...found, ...sigma].join(',')}\n`;
  });
  const points = `point,x_mm,y_mm,z_mm,sx_mm,sy_mm,sz_mm\n${rows.join('')}`;
  const answer = await json<Answer>(
    ['transfer', fileOf({ ...EXACT, references, ...more }), '--points', '-'],
    points,
  );
  return answer.registrations[side]!.consistency;
}

/** Over each coordinate's uncertainty; the motion along the tracker's axes about the middle of the points. */
function expected(errors: readonly Place[], uncertainty: Place): number {
  const rows = errors.flatMap((_, k) => {
    const [x, y, z] = seen(PLACES[k]!).map(
      (value, axis) => value - [700, -300, 1055][axis]!,
    ) as unknown as Place;
    return [
      [1, 0, 0, 0, z, -y],
      [0, 1, 0, -z, 0, x],
      [0, 0, 1, y, -x, 0],
    ].map((row, axis) => row.map((value) => value / uncertainty[axis]!));
  });
  return leastSquares(
    rows,
    errors.flatMap((error) => error.map((value, axis) => value / uncertainty[axis]!)),
  ).chiSquared;
}

/** What the beam and the light do to foci is not what is judged here. */
const EXACT: Words = {
  light: EXACT_LIGHT,
  interferometer: { focus: [0, 0, -500], fNumber: 3.2, ...EXACT_BEAM },
};
const random = normalDeviates(7);
const drawn = (count: number, uncertainty: Place): Place[] =>
  Array.from({ length: count }, () => uncertainty.map((u) => u * random()) as unknown as Place);
const scaled = (errors: readonly Place[], by: number): Place[] =>
  errors.map((error) => error.map((value) => value * by) as unknown as Place);

/** Relative: the fit here leaves out what turns of some 1e-4 do in second order. */
const SECOND_ORDER = 5e-4;

describe.each([
  { side: 'hologram', count: 3, freedom: 3, words: 'figures of common practice', stated: {} },
  { side: 'hologram', count: 4, freedom: 6, words: 'figures that the references state', stated: STATED },
  { side: 'part', count: 5, freedom: 9, words: 'figures that the references state', stated: STATED },
  { side: 'part', count: 6, freedom: 12, words: 'figures of common practice', stated: {} },
] as const)('$count points on the side of the $side, with $words', ({ side, count, freedom, stated }) => {
  const uncertainty = uncertainties({ ...USUAL, ...stated });
  const errors = drawn(count, uncertainty);
  const one = expected(errors, uncertainty);
  const withChiSquared = (value: number): Promise<Consistency> =>
    judged(side, scaled(errors, Math.sqrt(value / one)), stated);
  const { p05, p001 } = QUANTILES[freedom];

  it(`leave ${freedom} degrees of freedom and the χ² of an independent fit`, async () => {
    const found = await judged(side, errors, stated);
    expect(found.degreesOfFreedom).toBe(freedom);
    expect(Math.abs(found.chiSquared / one - 1)).toBeLessThan(SECOND_ORDER);
  });

  it('have the printed probability at the printed quantile', async () => {
    const { probability } = await withChiSquared(p05);
    expect(Math.abs(probability / 0.05 - 1)).toBeLessThan(4 * SECOND_ORDER);
  });

  it('contradict themselves just above the quantile of a thousandth, and not just below', async () => {
    for (const [by, contradictory] of [
      [1.003, true],
      [0.997, false],
    ] as const)
      expect(await withChiSquared(by * p001)).toMatchObject({ contradictory });
  });
});

describe('at foci that three patches each hold', () => {
  const patches = [0, 1, 2].flatMap((k) =>
    [
      [60, 0, 90],
      [-60, 0, 90],
      [0, 60, 0],
    ].map(([x, y, lineAngle], l) => {
      const outline = { rectangle: { width: 10, height: 10 } };
      return { id: `p${k}${l}`, reference: `r${k}`, focus: 'line', centre: [x, y], lineAngle, outline };
    }),
  );
  const sigma: Place = [1e-3, 1e-3, 1e-3];

  it('a stated centring counts', async () => {
    // So large that next to it the fringes and the tracker do not matter.
    const uncertainty = uncertainties({ centring: 1, nest: 0 }, sigma);
    const errors = drawn(3, uncertainty);
    const { chiSquared } = await judged('hologram', errors, { centring: 1 }, { patches }, sigma);
    expect(Math.abs(chiSquared / expected(errors, uncertainty) - 1)).toBeLessThan(0.02);
  });

  it('and where none is stated, that of common practice', async () => {
    const errors = drawn(3, uncertainties(USUAL, sigma));
    const [unstated, stated, none] = await Promise.all(
      [{}, { centring: USUAL.centring }, { centring: 0 }].map((seat) =>
        judged('hologram', errors, seat, { patches }, sigma),
      ),
    );
    expect(unstated).toEqual(stated);
    expect(unstated!.chiSquared).toBeLessThan(0.95 * none!.chiSquared);
  });
});

test('over drawn points χ² has the mean and the variance of its degrees of freedom', async () => {
  const trials = 150;
  const draw = (): Promise<Consistency> => judged('hologram', drawn(4, uncertainties(USUAL)));
  const values = await Promise.all(Array.from({ length: trials }, draw));
  const mean = values.reduce((sum, { chiSquared }) => sum + chiSquared / trials, 0);
  const variance = values.reduce((sum, { chiSquared }) => sum + (chiSquared - mean) ** 2 / (trials - 1), 0);
  const likely = values.filter(({ probability }) => probability > 0.05).length / trials;
  // Four standard errors: of the mean √(2ν/n), of the variance √((48ν + 8ν²)/n), ν = 6.
  expect(Math.abs(mean - 6)).toBeLessThan(4 * Math.sqrt(12 / trials));
  expect(Math.abs(variance - 12)).toBeLessThan(4 * Math.sqrt((48 * 6 + 8 * 36) / trials));
  expect(Math.abs(likely - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / trials));
});
