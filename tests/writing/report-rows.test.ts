/** What a report says of seats, of patches without a point, of marks and of cubes: present, in its units, null where it has no meaning. */
import { describe, expect, it } from 'vitest';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { jsonText } from '../../src/writing/json.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import { linePatch } from '../metrology/support/design-from.ts';
import { fullBench, ring } from '../metrology/support/full-bench.ts';

const seats = [0, 120, 240].map((azimuth, k) => {
  const angle = (azimuth * Math.PI) / 180;
  return { id: `s${k}`, kind: 'ball', diameter: 6, at: [80 * Math.cos(angle), 80 * Math.sin(angle)] };
});
const design = fullBench({
  seats,
  references: [
    { id: 'back', kind: 'return' },
    { id: 'plane', kind: 'datum', datum: 'P' },
    { id: 'screen', kind: 'screen', at: [0, 0, 600] },
    { id: 'smr', kind: 'smr', diameter: 38.1, at: [0, 100, 600], roll: 10 },
  ],
  patches: [
    { id: 'back', reference: 'back', focus: 'return', centre: [0, 0], outline: ring(140, 144) },
    { id: 'plane', reference: 'plane', focus: 'normal', centre: [0, 0], outline: ring(120, 124) },
    linePatch('bar', 'screen', [30, 0], 0),
    linePatch('line', 'smr', [0, 40], 0),
  ],
});
const head = { version: '0', scenarioHash: 'ab', draft: false };
const report = JSON.parse(jsonText(reportOf(design, [], head, patchTables(design))));
const patch = (id: string) => report.patches.find((row: { id: string }) => row.id === id);

describe('report', () => {
  it('counts fringes of the hologram’s and the part’s motions', () => {
    expect(patch('back').motion).toMatchObject({ of: 'hologram', frame: 'substrate' });
    expect(patch('plane').motion).toMatchObject({ of: 'part', frame: 'part' });
    expect(patch('plane').motion.fringesPerUrad.rx).toBeCloseTo((2 * 124e-6) / 632.8e-6, 2);
    expect(patch('line').motion).toBeNull();
  });

  it('describes the mark on a screen', () => {
    expect(patch('bar').mark).toMatchObject({ shape: 'line', length_mm: expect.closeTo(9.99, 2) });
    // 2λs/D
    expect(patch('bar').mark.widths_um[0]).toBeCloseTo((2 * 0.6328 * Math.hypot(30, 600)) / 10, 1);
    expect(patch('plane').mark).toBeNull();
  });

  it('says what comes back, by cause', () => {
    const { returnedShare, lossShares } = patch('line');
    const lost = Object.values<number>(lossShares).reduce((sum, share) => sum + share, 0);
    expect(returnedShare + lost).toBeCloseTo(1, 12);
    expect([patch('back').returnedShare, patch('bar').lossShares]).toEqual([null, null]);
    expect(patch('plane').returnedShare).toBe(1);
  });

  it('carries the seats’ frame, the harmless tilt, the cubes and the power', () => {
    expect(report.seatFrame.atReferences).toHaveLength(4);
    expect(report.seatFrame.atPart.rotations_urad.rx).toBeCloseTo(report.seatFrame.sigma.rx, 12);
    expect(report.hologram.harmlessTilt.fringes).toBeGreaterThan(0);
    expect(report.references[3].cube).toMatchObject({
      acceptance_deg: expect.closeTo(30, 9),
      rollGiven: true,
      axisGiven: false,
    });
    expect(report.references[0].cube).toBeNull();
    expect(report.scenario.input.interferometer.power_mW).toBe(1);
    for (const { reach } of report.references) {
      expect(reach.shareOfFreeGlass).toBeGreaterThan(0);
      expect(reach.finestFeature_um).toBeLessThan(reach.coarsestFeature_um);
    }
  });
});
