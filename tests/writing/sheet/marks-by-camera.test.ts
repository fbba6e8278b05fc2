/**
 * Where the sheet says that marks on the surface appear, for each way the camera may be turned: the frame as seen from the interferometer,
 * mirrored and turned pixel by pixel. What a camera shows is one picture, so that its pixels go where the picture goes.
 */
import { expect, test } from 'vitest';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { ORIENTATIONS } from '../../../src/scenario/camera-orientation.ts';
import { patchTables } from '../../../src/writing/coefficients/coefficients.ts';
import { reportOf } from '../../../src/writing/report/report.ts';
import { surfaceSection } from '../../../src/writing/sheet/surface-section.ts';
import { job } from './jobs.ts';
import '../../machine/patience.ts';

const design = job('everything');
const head = { version: '0.0.0', scenarioHash: '', draft: false };
const report = reportOf(design, applyRules(design), head, patchTables(design));
const { pixelsAcrossBeam: pixels } = design.scenario.interferometer;

const told = (section: string): Map<string, [number, number]> => {
  const table = section.split('<table>').at(-1)!;
  return new Map(
    [...table.matchAll(/<tr>(.*?)<\/tr>/g)].flatMap(([, row]) => {
      const cells = [...row!.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(([, cell]) => cell!);
      return cells.length === 7
        ? [[cells[0]!, [Number(cells[5]), Number(cells[6])] as [number, number]]]
        : [];
    }),
  );
};

test('marks stand where the turned picture has them; the report keeps to the plain view', () => {
  const marks = report.test!.fiducials;
  expect(marks.length).toBeGreaterThan(1);
  for (const orientation of ORIENTATIONS) {
    const section = surfaceSection(design, report, orientation)!.text;
    const seen = told(section);
    for (const { id, camera_px } of marks) {
      let [column, row] = camera_px;
      if (orientation.mirrored) column = pixels - 1 - column;
      // A quarter turn clockwise: the first row becomes the last column.
      for (let turn = 0; turn < orientation.turned; turn += 90) [column, row] = [pixels - 1 - row, column];
      expect(seen.get(id)![0]).toBeCloseTo(column, 0.8);
      expect(seen.get(id)![1]).toBeCloseTo(row, 0.8);
    }
    if (orientation.turned === 90 && !orientation.mirrored)
      expect(section).toContain(
        'seen from the interferometer, turned 90° clockwise: x of the pattern up, y to the right;',
      );
  }
});
