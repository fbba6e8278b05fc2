/** What the search reckons with is what the report will say: sums of squares against the QR of the readings. */
import { expect, test } from 'vitest';
import { estimatePose } from '../../src/metrology/estimate/pose-estimate.ts';
import { Layout } from '../../src/planning/layout.ts';
import {
  addReading,
  addToPose,
  noInformation,
  poseScore,
  wishesOf,
} from '../../src/planning/pose-information.ts';
import { placementOf, type Slot } from '../../src/planning/slot.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { designFrom, linePatch, pointPatch } from '../metrology/support/design-from.ts';

const WANTED = { x: '10 um', y: '12 um', z: '80 um', rx: '150 urad', ry: '100 urad', rz: '60 urad' };
const DATUMS = {
  A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
  B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 300 } },
};
const EXACT = { form: '1e-6 um', nest: '1e-6 um' };
const touching = (id: string, azimuth: number) => ({
  form: EXACT.form,
  centring: '1e-6 um',
  id,
  kind: 'smr',
  diameter: 38.1,
  touches: [{ datum: 'B', azimuth }, { datum: 'A' }],
});

const scene = (patches: readonly unknown[]) =>
  designFrom({
    // Placement of the pattern is no part of the readings' own uncertainty.
    process: { placement: '1e-6 um' },
    part: { origin: [3, -2, 900], rotation: [4, -3, 10], datums: DATUMS },
    references: [
      { id: 'a', kind: 'smr', diameter: 38.1, at: [150, 20, 800], centring: '1e-6 um', ...EXACT },
      { id: 'b', kind: 'ball', diameter: 12.7, at: [-80, 60, 140], ...EXACT },
      touching('c', 40),
      touching('d', 200),
    ],
    patches,
    measurements: [{ id: 'spacer', reference: 'c', direction: [0, 0, 1], uncertainty: '15 um' }],
    wanted: WANTED,
  });

test('σ of every degree, with slides along datums and a measured length, as metrology/estimate/pose-estimate.ts has it', () => {
  const design = scene([
    linePatch('a-1', 'a', [50, 0], 20),
    linePatch('a-2', 'a', [50, 20], 100),
    pointPatch('b-1', 'b', [-55, 0], 12),
    linePatch('c-1', 'c', [0, 55], 70),
    linePatch('c-2', 'c', [20, 55], 0),
    linePatch('d-1', 'd', [0, -55], 45),
    linePatch('d-2', 'd', [-20, -55], 130),
  ]);
  const layout = new Layout(design, design.references, 10);
  const pose = estimatePose(design);
  expect(pose.free.observed.every(Boolean)).toBe(true);
  const ratios = DEGREES.map(
    (degree, k) => Math.sqrt(pose.stated.covariance[k * 7]!) / design.scenario.wanted[degree]!,
  );
  // Setting by eye, 0.6 mm, backs the search up where nothing is seen: hardly felt where something is.
  expect(layout.score().worst / Math.max(...ratios)).toBeCloseTo(1, 2);
});

test('a placed slot counts as the designed patch does', () => {
  const design = scene([
    linePatch('a-1', 'a', [50, 0], 20),
    pointPatch('b-1', 'b', [-55, 0], 12),
    linePatch('c-1', 'c', [0, 55], 70),
  ]);
  const whole = new Layout(design, design.references, 10).score();
  const layout = new Layout({ ...design, patches: [] }, design.references, 10);
  for (const { asked, reference } of design.patches) {
    const outline =
      asked.outline.shape === 'circle'
        ? { ...asked.outline, centre: [0, 0] as const }
        : asked.outline.shape === 'rectangle'
          ? { ...asked.outline, centre: [0, 0] as const }
          : undefined;
    const slot = { id: asked.id, reference, focus: asked.focus, order: 1, outline } as Slot;
    layout.placements.set(slot, placementOf(design, slot, asked.centre, asked.lineAngle ?? 0, 0));
  }
  // The measured length is in both.
  expect(layout.score().worst).toBeCloseTo(whole.worst, 6);
  expect(layout.score().smooth).toBeCloseTo(whole.smooth, 6);
});

test('a reference that is off along each axis: σ² is u² and its variance together', () => {
  const information = noInformation();
  addReading(information, [0, 0.6, 0.8], 1 / 0.01 ** 2);
  addReading(information, [0, -0.8, 0.6], 1 / 0.03 ** 2);
  addReading(information, [1, 0, 0], 1 / 0.02 ** 2);
  const pose = new Float64Array(36);
  addToPose(pose, information, { at: [0, 0, 0], slides: [], offset: 0.05 ** 2 });
  const v = 0.05 ** 2;
  expect(1 / pose[0]!).toBeCloseTo(0.02 ** 2 + v, 12);
  // Along the two turned directions, back from the 2 x 2 of y and z.
  const along = (y: number, z: number): number => y * y * pose[7]! + 2 * y * z * pose[8]! + z * z * pose[14]!;
  expect(1 / along(0.6, 0.8)).toBeCloseTo(0.01 ** 2 + v, 12);
  expect(1 / along(-0.8, 0.6)).toBeCloseTo(0.03 ** 2 + v, 12);
});

test('one reading, worked by hand: σ is u where it is alone with the prior', () => {
  const information = noInformation();
  addReading(information, [0, 0, 1], 1 / 0.01 ** 2);
  const pose = new Float64Array(36);
  addToPose(pose, information, { at: [0, 0, 0], slides: [], offset: 0 });
  const { worst } = poseScore(pose, wishesOf({ z: 0.01 }, 100));
  expect(worst).toBeCloseTo(1, 3);
  // A slide along it takes it out altogether.
  const slid = new Float64Array(36);
  addToPose(slid, information, { at: [0, 0, 0], slides: [[0, 0, 1]], offset: 0 });
  expect(slid.every((entry) => Math.abs(entry) < 1e-9)).toBe(true);
});
