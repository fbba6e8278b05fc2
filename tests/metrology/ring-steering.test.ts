/**
 * Rings counted by rays traced one by one to where hologram and part were put, from edge to edge and from the inner edge to the outer, and
 * given to `steer`: the moves take back what was put off, with their signs. Whichever side of the glass the pattern is on, in a diverging, a
 * converging and a collimated beam. µm and µrad.
 */
import { describe, expect, test } from 'vitest';
import { apparentCounts } from '../../src/metrology/sensing/apparent-reading.ts';
import { predictedReadings } from '../../src/metrology/steering/moves-predicted.ts';
import { alongSenses } from '../../src/metrology/steering/seen-readings.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { steeringFindings } from '../../src/metrology/steering/steering-findings.ts';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { steeringReport } from '../../src/writing/steering/steering-report.ts';
import { steeringText } from '../../src/writing/steering/steering-text.ts';
import { countedOn, type Motions, ringWaves } from '../independent/ring-bench.ts';
import { patchOf } from './support/full-bench.ts';
import { RINGS, ringBench, ringDesign, type Side } from './support/ring-scene.ts';

type Light = Parameters<typeof ringDesign>[1];
type Ring = keyof typeof RINGS;

const SIDES = ['before', 'after'] as const;
const UM = 1e-3;
const URAD = 1e-6;
/** Six numbers of µm and µrad as the bench takes them. */
const off = (...six: readonly number[]): readonly number[] => six.map((v, k) => v * (k < 3 ? UM : URAD));

const counts = (id: Ring, side: Side, light: Light, motions: Motions) =>
  countedOn(ringWaves(ringBench(id, side, light), motions), RINGS[id]);

/** What a ring's entry says, as an operator writes it. */
const entry = (id: Ring, [a, b, power]: readonly number[], rest = ''): string =>
  `  - {patch: ${id}, fringes: [${a}, ${b}], power: ${power}${rest}}\n`;

function steered(side: Side, light: Light, entries: string) {
  const design = ringDesign(side, light);
  const { readings, findings } = readReadings(`readings:\n${entries}`, 'r.yaml', design.scenario);
  expect(findings).toEqual([]);
  const steering = steer(design, readings!);
  const found = steeringFindings(steering);
  const report = steeringReport(design, steering, found);
  return { report, findings: found, text: steeringText(report, steering, PLAIN_ORIENTATION) };
}

/** Of a move, and of what is counted: fringes of a hundredth. */
const NEAR = { um: 0.02, urad: 0.04, part: 0.01 };

describe.each(
  SIDES.flatMap((side) => (['diverging', 'converging'] as const).map((light) => [side, light] as const)),
)('glass %s the pattern, a %s beam', (side, light) => {
  test.each([
    ['shifted', off(2, -3, 250, 0, 0, 0)],
    ['turned', off(0, 0, -200, 5, -3, 0)],
  ] as const)('a hologram %s: the return ring tells the move back, as turns or as a shift', (how, put) => {
    const { report } = steered(side, light, entry('back', counts('back', side, light, { hologram: put })));
    const hologram = report.hologram!;
    expect(hologram.exact).toBe(true);
    if (how === 'shifted') {
      const { x, y, z } = hologram.insteadByShift_um!;
      expect(x).toBeCloseTo(-2, 1);
      expect(y).toBeCloseTo(3, 1);
      // Power counts to a few µm here.
      expect(Math.abs(z + 250)).toBeLessThan(NEAR.part * 250);
      return;
    }
    const { rx, ry, rz } = hologram.move_urad!;
    expect(Math.abs(rx + 5)).toBeLessThan(NEAR.urad);
    expect(Math.abs(ry - 3)).toBeLessThan(NEAR.urad);
    expect(rz).toBeCloseTo(0, 12);
    expect(Math.abs(hologram.move_um!.z - 200)).toBeLessThan(NEAR.part * 200);
    expect(report.part.readings).toBe(0);
  });

  test('a part moved and turned: two rings tell five degrees of the move back', () => {
    const put = off(4, -2, 300, -6, 3, 0);
    const two = (['sphere', 'plane'] as const).map((id) => {
      const [a, b, power] = counts(id, side, light, { part: put });
      return id === 'plane' ? `  - {patch: plane, fringes: [${a}, ${b}]}\n` : entry(id, [a, b, power]);
    });
    const { report } = steered(side, light, two.join(''));
    const { move_um, move_urad, unobserved, exact } = report.part;
    expect(exact).toBe(true);
    expect(Math.abs(move_um!.x + 4)).toBeLessThan(NEAR.um * 2);
    expect(Math.abs(move_um!.y - 2)).toBeLessThan(NEAR.um * 2);
    expect(Math.abs(move_um!.z + 300)).toBeLessThan(NEAR.part * 300);
    expect(Math.abs(move_urad!.rx - 6)).toBeLessThan(NEAR.urad);
    expect(Math.abs(move_urad!.ry + 3)).toBeLessThan(NEAR.urad);
    expect(unobserved).toEqual(['rz']);
    expect('hologram' in report).toBe(false);
    expect(report.references).toEqual([]);
  });
});

test('in a collimated beam the return ring tells the turns of the hologram, and says that shifts do not show', () => {
  const put = off(0, 0, 0, 7, -2, 0);
  const [a, b] = counts('back', 'before', 'collimated', { hologram: put });
  const { report, text } = steered('before', 'collimated', `  - {patch: back, fringes: [${a}, ${b}]}\n`);
  expect(Math.abs(report.hologram!.move_urad!.rx + 7)).toBeLessThan(NEAR.urad);
  expect(Math.abs(report.hologram!.move_urad!.ry - 2)).toBeLessThan(NEAR.urad);
  expect(report.hologram!.insteadByShift_um).toBeNull();
  expect(report.hologram!.sigma).toMatchObject({ x: null, y: null, z: null, rz: null });
  expect(text).toContain('cannot tell: x; y; z; rz');
});

test('a turn is not told from the shift that shows alike: the same readings give both, 0.7 µm for a µrad 0.7 m from the focus', () => {
  const { report, text } = steered('before', 'converging', '  - {patch: back, fringes: [1, 0]}\n');
  const { insteadByShift_um: shift, move_urad: turn, sigma } = report.hologram!;
  expect(shift!.x / turn!.ry).toBeCloseTo(0.7, 2);
  expect(sigma.x! / sigma.ry!).toBeCloseTo(0.7, 2);
  // No power was read.
  expect(sigma.z).toBeNull();
  expect(text).toMatch(/z unobserved/);
  expect(text.indexOf('Hologram')).toBeLessThan(text.indexOf('Part'));
});

test('the standard uncertainty is that of the reading, the scenario’s or the entry’s own, over the fringes of the motion', () => {
  const [usual, twice] = ['', ', uncertainty: 0.2'].map(
    (rest) =>
      steered('before', 'collimated', `  - {patch: back, fringes: [1, 1]${rest}}\n`).report.hologram!.sigma,
  );
  // 2Dθ/λ fringes for a turn θ over D = 134 mm: 0.1 of one is 0.236 µrad.
  const expected = (0.1 * 632.8e-6) / (2 * 134) / URAD;
  expect(usual!.rx! / expected).toBeCloseTo(1, 3);
  expect(twice!.rx! / expected).toBeCloseTo(2, 3);
});

test('an axial place that is not counted is set by eye, and a beam aslant makes a tilt of it', () => {
  const [with_, without] = [', power: 0', ''].map(
    (power) =>
      steered('before', 'diverging', `  - {patch: back, fringes: [1, 1]${power}}\n`).report.hologram!.sigma,
  );
  expect(without!.z).toBeNull();
  // The focus stands 3 mm aside at 500 mm: what z does not tell, x does not either.
  expect(without!.x! / with_!.x!).toBeGreaterThan(5);
});

test('of an unknown sign both ways are told, with the trial move that shows which it is', () => {
  const { report, text } = steered(
    'after',
    'diverging',
    '  - {patch: back, fringes: [1.5, 0], sign: unknown}\n',
  );
  const [plus, minus] = report.hologram!.candidates;
  expect(plus!.move_urad.ry).toBeCloseTo(-minus!.move_urad.ry, 3);
  expect(text).toMatch(/trial move/);
});

test('the power of a plane is not used, and that is told where it is not zero', () => {
  const design = ringDesign('before');
  const read = (power: number) => {
    const { readings } = readReadings(`readings:\n${entry('plane', [1, 0, power])}`, 'r', design.scenario);
    return steeringFindings(steer(design, readings!));
  };
  expect(read(0.5)).toMatchObject([{ rule: 'blind-count', where: 'plane power', severity: 'warning' }]);
  expect(read(0)).toEqual([]);
});

test('two rings on one feature that contradict each other are found, by name', () => {
  const words = '  - {patch: back, fringes: [1, 0]}\n  - {patch: other, fringes: [-1, 0]}\n';
  const design = ringDesign('before', 'diverging', [
    { id: 'other', inner: 60, outer: 63, reference: 'back' },
  ]);
  const { readings } = readReadings(`readings:\n${words}`, 'r', design.scenario);
  const [finding] = steeringFindings(steer(design, readings!));
  expect(finding).toMatchObject({ rule: 'contradicting-readings', where: 'hologram' });
  expect(finding!.message).toMatch(/return rings/);
});

test.each([
  ['{patch: back, fringes: 1}', 'bad-value', /1 value for patch back, a ring.*/],
  ['{patch: back, fringes: [1, 2, 3]}', 'bad-value', /3 values/],
  ['{patch: sphere}', 'missing-key', /needs its `fringes`/],
])('%s is refused', (words, rule, message) => {
  const { findings } = readReadings(`readings:\n  - ${words}\n`, 'r', ringDesign('before').scenario);
  expect(findings).toMatchObject([{ rule, message: expect.stringMatching(message) as string }]);
});

test('a change of the wave reads as the motion of the part that would meet it, in fringes as counted', () => {
  const design = ringDesign('before');
  // Aimed at a centre that lies elsewhere by δ, the wave meets the sphere as if that were off by −δ.
  const [dx, dy, dz] = [3e-3, -2e-3, 0.2];
  const toCentre = (x: number, y: number, by: number): number =>
    Math.hypot(x - by * dx, y - by * dy, 400 + by * dz);
  const change = (x: number, y: number): number => toCentre(x, y, 0) - toCentre(x, y, 1);
  const shown = apparentCounts(design, patchOf(design, 'sphere'), change);
  const seen = counts('sphere', 'before', 'diverging', { part: [dx, dy, dz, 0, 0, 0] });
  expect(Math.abs(seen[0])).toBeGreaterThan(1);
  for (const [k, count] of shown.entries()) expect(count).toBeCloseTo(seen[k]!, 1);
});

test.each([
  // From the interferometer x runs left: 9 o’clock is + x, 12 o’clock + y; turned clockwise by a quarter, 12 o’clock is + x.
  ['as from the interferometer', PLAIN_ORIENTATION, 9, [1.5, 0]],
  ['as from the interferometer', PLAIN_ORIENTATION, 12, [0, 1.5]],
  ['as from the interferometer', PLAIN_ORIENTATION, 4.5, [-1.5 / Math.SQRT2, -1.5 / Math.SQRT2]],
  ['turned by 90°', { ...PLAIN_ORIENTATION, turned: 90 }, 12, [1.5, 0]],
] as const)(
  'a ring’s path that falls toward an hour of the picture, %s, is counted along x and y: %#',
  (_, orientation: CameraOrientation, hour, expected) => {
    const { scenario } = ringDesign('before');
    const words = `readings:\n  - {patch: back, fringes: 1.5, toward: ${hour}, power: 0.25}\n`;
    const seen = readReadings(words, 'r', scenario);
    expect(seen.findings).toEqual([]);
    const { readings } = alongSenses(ringDesign('before'), seen.readings!, orientation);
    const [reading] = readings;
    if (reading?.kind !== 'fringes') throw new Error('no reading of the ring');
    const [a, b, power] = reading.fringes;
    expect(a).toBeCloseTo(expected[0], 9);
    expect(b).toBeCloseTo(expected[1], 9);
    expect(power).toBe(0.25);
  },
);

test('a return ring stays as it is while the part moves: nothing is predicted of it', () => {
  const design = ringDesign('before');
  const { readings } = readReadings(
    'readings:\n  - {patch: back, fringes: [1, 2], power: 0}\n',
    'r',
    design.scenario,
  );
  const part = { translation: [1, 1, 1], rotation: [0, 0, 0] } as const;
  const moves = { hologram: undefined, part, references: new Map() };
  expect(predictedReadings(design, steer(design, readings!), moves)).toEqual([]);
});
