/**
 * What common practice says of the things that a scenario leaves out, as it reaches the report's budget: each term for a ball or a cube
 * straight ahead of a square patch in collimated light, against a formula by hand. µm; half-widths of rectangular distributions over √3.
 *
 * With the focal length s a wavelength or an index off by κ moves the focus by sκ; a hologram larger by ε has the focal length s(1 + ε)²; a
 * pattern displaced takes the focus along.
 */
import { describe, expect, it, test } from 'vitest';
import { ciddor, overWater } from '../independent/media.ts';
import { fileOf, json, reportOf, type Words } from './support/command.ts';

interface Budget {
  readonly terms: readonly { readonly term: string; readonly by: Readonly<Record<string, number>> }[];
}

interface Report {
  readonly references: readonly {
    readonly budget_um: Budget;
    readonly cube: { readonly acceptance_deg: number } | null;
  }[];
  readonly part: { readonly budget: Budget };
  readonly seatFrame: { readonly sigma: Readonly<Record<string, number>> } | null;
}

const S = 200;
const WIDTH = 10;
const UM = 1000;
const ROOT_3 = Math.sqrt(3);

const ahead = (kind: 'ball' | 'smr', more: Words = {}): Words => ({
  interferometer: { collimated: true, beamDiameter: 140 },
  part: { origin: [0, 0, S] },
  references: [{ id: 'r', kind, diameter: 25.4, at: [0, 0, S] }],
  patches: [
    {
      id: 'p',
      reference: 'r',
      centre: [0, 0],
      outline: { rectangle: { width: WIDTH, height: WIDTH } },
      ...(kind === 'ball' ? { focus: 'point' } : { focus: 'line', lineAngle: 90 }),
    },
  ],
  ...more,
});

const by = ({ terms }: Budget, term: string, axis: string): number =>
  terms.find((each) => each.term === term)?.by[axis] ?? Number.NaN;

/** Steps of the beam's own width: relative, of formulas for a small patch. */
const NEARLY = 2e-3;
const near = (value: number, expected: number, relative = NEARLY): void =>
  expect(Math.abs(value / expected - 1)).toBeLessThan(relative);

describe('a ball straight ahead', () => {
  const report = reportOf<Report>(ahead('ball'));
  const term = async (name: string, axis: string): Promise<number> =>
    by((await report).references[0]!.budget_um, name, axis);

  it.each([
    ['reading', 'x', (0.1 * 632.8e-6 * S * UM) / (2 * WIDTH)],
    ['reading', 'z', 0.1 * 632.8e-6 * UM * ((2 * S) / WIDTH) ** 2],
    ['ball form', 'x', 0.25 / ROOT_3],
    ['ball form', 'z', 0.25 / ROOT_3],
    ['pattern placement', 'x', 0.1],
    ['pattern placement', 'y', 0.1],
    ['laser wavelength', 'z', S * UM * 1.5e-6],
    ['glass expansion', 'z', 2 * S * UM * 7.1e-6 * 0.5],
  ])('%s along %s', async (name, axis, expected) => {
    near(await term(name, axis), expected);
  });

  it('air: half a kelvin, a hectopascal and a tenth of humidity of the standard 20 °C, 101 325 Pa, 50 %', async () => {
    const index = (celsius: number, pascal: number, humidity: number): number =>
      ciddor(0.6328, celsius, pascal, (1.004 * humidity * overWater(celsius)) / pascal);
    const at = index(20, 101_325, 0.5);
    const off = [index(20.5, 101_325, 0.5), index(20, 101_425, 0.5), index(20, 101_325, 0.6)];
    near(await term('air index', 'z'), S * UM * Math.hypot(...off.map((changed) => changed - at)));
  });

  it('its seat in the part', async () => {
    for (const axis of ['x', 'y', 'z'])
      near(by((await report).part.budget, 'nest', axis), 2.5 / ROOT_3, 1e-6);
  });
});

test('a cube’s apex, and within what it takes in light', async () => {
  const { references } = await reportOf<Report>(ahead('smr'));
  // The line lies along y: the patch senses x.
  near(by(references[0]!.budget_um, 'apex centring', 'x'), 6 / ROOT_3, 1e-6);
  expect(references[0]!.cube!.acceptance_deg).toBeCloseTo(30, 9);
});

// 1e-6/K: of fused silica and N-BK7 as published, the others from memory.
test.each([
  ['fused silica', 0.55],
  ['N-BK7', 7.1],
  ['N-SF11', 8.5],
  ['N-F2', 7.8],
  ['calcium fluoride', 18.9],
  ['sapphire (ordinary)', 5],
])('%s expands by %f e-6 a kelvin', async (glass, expansion) => {
  const outline = { circle: { diameter: 150 } };
  const { references } = await reportOf<Report>(
    ahead('ball', { substrate: { outline, thickness: 6, glass } }),
  );
  near(by(references[0]!.budget_um, 'glass expansion', 'z'), 2 * S * UM * expansion * 1e-6 * 0.5);
});

test('a tracker’s points without uncertainties have 20 µm an axis, or 10 µm and a second of arc', async () => {
  const places = [
    [200, 150, 1000],
    [-180, 140, 900],
    [-190, -160, 1050],
    [170, -150, 1100],
  ] as const;
  const references = places.map((at, k) => ({ id: `r${k}`, kind: 'smr', diameter: 38.1, at }));
  const answer = async (
    head: string,
    row: (k: number) => readonly number[],
    sigmas: string,
  ): Promise<unknown> => {
    const rows = places.map((_, k) => `r${k}@hologram,${row(k).join(',')}${sigmas}\n`);
    const args = ['transfer', fileOf({ references }), '--points', '-'];
    return (await json<{ registrations: unknown }>(args, `${head}\n${rows.join('')}`)).registrations;
  };
  const cartesian = (k: number): readonly number[] => places[k]!;
  const stated = await answer('point,x_mm,y_mm,z_mm,sx_mm,sy_mm,sz_mm', cartesian, ',0.02,0.02,0.02');
  expect(await answer('point,x_mm,y_mm,z_mm', cartesian, '')).toEqual(stated);
  const spherical = (k: number): readonly number[] => {
    const [x, y, z] = places[k]!;
    const level = Math.hypot(x, y);
    const degrees = (angle: number): number => (angle * 180) / Math.PI;
    return [Math.hypot(level, z), degrees(Math.atan2(y, x)), degrees(Math.atan2(z, level))];
  };
  const head = 'point,range_mm,azimuth_deg,elevation_deg';
  const inArcseconds = ',srange_mm,sazimuth_arcsec,selevation_arcsec';
  expect(await answer(head, spherical, '')).toEqual(
    await answer(head + inArcseconds, spherical, ',0.01,1,1'),
  );
});
