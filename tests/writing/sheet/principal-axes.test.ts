/**
 * The principal axes of a reference's uncertainty on the sheet, and the largest of them in a batch's row: one line patch sees one
 * direction, ê = ℓ̂ × û, to r λ s/(2D); what it does not see is said to be unseen and is no figure.
 */
import { expect, test } from 'vitest';
import { figuresOf } from '../../../src/writing/batch/batch-row.ts';
import { patchTables } from '../../../src/writing/coefficients/coefficients.ts';
import { reportOf } from '../../../src/writing/report/report.ts';
import { designOf, sheetOf } from './made-sheets.ts';

// Straight ahead: the line along x, so that y is seen; 10 mm at 3 m, a tenth of a fringe.
const design = designOf(`format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}}
references: [{id: far, kind: smr, diameter: 1.5 in, at: [0, 0, 3000]}]
patches: [{id: p, reference: far, focus: line, lineAngle: 0, centre: [0, 0], outline: {rectangle: {width: 10, height: 10}}}]
`);
const SEEN_UM = (0.1 * 632.8e-6 * 3000 * 1e3) / (2 * 10);

test('the sheet names the direction that is seen and its figure, and two that are unseen', () => {
  const text = sheetOf(design)
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
  expect(text.match(/\) unseen/g)).toHaveLength(2);
  expect(text).toMatch(new RegExp(`\\(0\\.000, (?:−|)1\\.000, (?:−|)0\\.000\\) ${SEEN_UM.toFixed(2)}`));
});

test('a batch’s row has the figure that is seen', () => {
  const report = reportOf(design, [], { version: '0', scenarioHash: '0', draft: false }, patchTables(design));
  expect(figuresOf(design, report, [], true).worstSigma_um).toBeCloseTo(SEEN_UM, 2);
});
