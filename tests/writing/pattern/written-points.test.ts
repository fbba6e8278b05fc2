/**
 * Points at random against the phase, by the bytes of a GDSII file as a shop gets it: mirrored for the writer (`--as-written`), with marks on
 * the glass and zones joined across the ridges of roofs. A point is written once where its phase, found by brute force from the words of the
 * scene, says so, and nowhere else; the places beside lines, ridges and outlines and about the marks are drawn apart.
 */
import { expect, test } from 'vitest';
import type { PatchWords, Point, Scene } from '../../independent/scene.ts';
import { patternFilesOf } from '../support/made-pattern.ts';
import { designOfScene } from '../support/made-phase-files.ts';
import { Draws, jointsOf, judged, marksIn, patchesOf } from './points-against-phase.ts';

const DUTY = 0.42;
/** What the README promises of an edge, mm. */
const BOUND = 5e-6;

const roof = (id: string, centre: Point, lineAngle: number, rotation: number): PatchWords => ({
  id,
  reference: 'cube',
  focus: 'line',
  centre,
  lineAngle,
  outline: { rectangle: { width: 4, height: 3, rotation } },
  bias: { shape: 'roof', fringes: 6 },
});
const SCENE: Scene = {
  title: 'Points',
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2 },
  substrate: {
    outline: { circle: { diameter: 150 } },
    thickness: 6.35,
    index: 1.457,
    patternFaces: 'interferometer',
  },
  process: { kind: 'etched', dutyCycle: DUTY, minFeature: 5e-4 },
  marks: 'auto',
  references: [
    { id: 'cube', kind: 'smr', diameter: 38.1, at: [60, 200, 1500] },
    { id: 'ball', kind: 'ball', diameter: 25, at: [-30, -120, 260] },
  ],
  patches: [
    roof('level', [10, 45], 90, 0),
    roof('slanting', [-30, 35], 20, 30),
    {
      id: 'round',
      reference: 'ball',
      focus: 'point',
      centre: [-20, -40],
      outline: { circle: { diameter: 3 } },
      bias: { shape: 'tilt', fringes: 4, direction: 50 },
    },
    {
      id: 'ring',
      reference: 'ball',
      focus: 'point',
      centre: [25, -30],
      outline: { ring: { inner: 2, outer: 4 } },
    },
  ],
};
const design = designOfScene(SCENE);
const { files, report } = patternFilesOf(design, { pattern: ['gds'], asWritten: true });
const { topCell, patches } = report.files[0]!;
const data = { bytes: files.get('pattern.gds')!, topCell: topCell!, mirrored: true };
const sheet = {
  ...{ patterns: patchesOf(SCENE, () => BOUND), marks: marksIn(design) },
  ...{ dutyCycle: DUTY, edgeShift: 0 },
};
const draws = new Draws(sheet, 20_000);
const besideLines = draws.besideLines(3000, 1.2 * BOUND, 20 * BOUND);
const tallies = judged(
  {
    'in the patches': draws.inPatterns(6000),
    'beside the edges of lines': besideLines,
    'beside the ridges': draws.besideRidges(4000),
    'beside the patches’ edges': draws.besideOutlines(4000, 4e-3),
    'about the marks': draws.aboutMarks(3000),
  },
  sheet,
  data,
);

test('the data are mirrored, and the marks are there', () => {
  expect(report.mirrored).toBe(true);
  expect(sheet.marks.length).toBeGreaterThan(20);
});

test.each(Object.entries(tallies))('%s no point is wrong', (_, { wrong, points, near, written, marked }) => {
  expect(wrong).toEqual([]);
  expect(points).toBeGreaterThanOrEqual(3000);
  expect(near / points).toBeLessThan(0.03);
  expect((written + marked) / points).toBeGreaterThan(0.1);
});

test('over all the glass nothing is written but patches and marks', () => {
  const { anywhere } = judged({ anywhere: draws.anywhere(2000, 80) }, sheet, data);
  expect(anywhere.wrong).toEqual([]);
});

test('the lines of a roof cross its ridge in one piece', () => {
  const roofs = sheet.patterns.filter(({ roof }) => roof !== undefined);
  expect(roofs.length).toBe(2);
  for (const one of roofs) {
    const { crossing, ending } = jointsOf(one, patches.find(({ id }) => id === one.id)!.cell!, data);
    expect(crossing).toBeGreaterThan(10);
    expect(ending).toBeLessThan(1e-3);
  }
});

test.each([
  ['not mirrored', { mirrored: false }, 0.3],
  ['20 nm aside', { displaced: [2e-5, 0] as Point }, 0.1],
  ['20 nm above', { displaced: [0, -2e-5] as Point }, 0.1],
])('the same data %s would have wrong points', (_, change, share) => {
  const { moved } = judged({ moved: besideLines }, sheet, { ...data, ...change });
  expect(moved.wrong.length).toBeGreaterThan(share * besideLines.length);
});
