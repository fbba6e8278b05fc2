/** What a report says of seats, of patches without a point, of marks and of cubes: present, in its units, null where it has no meaning. */
import { describe, expect, it } from 'vitest';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { jsonText } from '../../src/writing/json.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import type { Scene } from '../independent/scene.ts';
import { linePatch } from '../metrology/support/design-from.ts';
import { fullBench, ring } from '../metrology/support/full-bench.ts';
import { reportOfScene } from './support/made-report.ts';

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
    expect(report.scenario.input.interferometer.laserPower_mW).toBe(1);
    for (const { reach } of report.references) {
      expect(reach.shareOfFreeGlass).toBeGreaterThan(0);
      expect(reach.finestFeature_um).toBeLessThan(reach.coarsestFeature_um);
    }
  });
});

/** I. H. Malitson, J. Opt. Soc. Am. 55, 1205 (1965); µm. */
function fusedSilica(um: number): number {
  const terms = [
    [0.6961663, 0.0684043],
    [0.4079426, 0.1162414],
    [0.8974794, 9.896161],
  ];
  return Math.sqrt(terms.reduce((sum, [b, c]) => sum + (b! * um * um) / (um * um - c! * c!), 1));
}

describe('what the report was made from', () => {
  // From 632.9908 nm in vacuum, 20 °C, 101 325 Pa, half saturated: 632.819070 nm by Ciddor's formula (Appl. Opt. 35, 1566, recomputed).
  const scene: Scene = {
    title: 'Sixteen words',
    light: {
      vacuumWavelength: '632.9908 nm',
      air: { temperature: '20 degC', pressure: 101325, humidity: 0.5 },
    } as unknown as Scene['light'],
    interferometer: {
      focus: [1, -2, 900],
      fNumber: 4.5,
      pixelsAcrossBeam: 700,
      readable: 0.05,
      laserPower: '3 mW',
    },
    substrate: {
      outline: { circle: { diameter: 150 } },
      thickness: '9.5 mm',
      glass: 'fused silica',
      patternFaces: 'interferometer',
      edgeMargin: '4 mm',
      clearance: '600 um',
    } as unknown as Scene['substrate'],
    process: { kind: 'chrome', minFeature: '0.7 um', dutyCycle: 0.45, placement: '150 nm' },
    parameters: { rim: '12 mm', lean: '3 deg', half: 0.5 },
    part: {
      origin: [3, -4, 700],
      rotation: [1, -2, 30],
      datums: {
        A: { plane: { point: [1, 2, 3], normal: [0, 0, -1] } },
        B: { sphere: { centre: [4, 5, 6], diameter: 220 } },
        C: { cone: { apex: [0, 0, -60], axis: [0, 0, 1], angle: 160 } },
        D: { torus: { centre: [0, 1, 20], axis: [0, 0, 1], diameter: 70, tube: 20 } },
      },
    },
    references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: [20, 30, 150] }],
    patches: [
      {
        id: 'one',
        reference: 'near',
        focus: 'point',
        centre: [10, 25],
        outline: { circle: { diameter: 9 } },
      },
    ],
  };
  const { report: made } = reportOfScene(scene);

  it('has the light in air and the glass, in their units', () => {
    expect(made.light.wavelength_nm).toBeCloseTo(632.81907, 5);
    expect(made.light.airIndex).toBeCloseTo(632.9908 / 632.81907, 8);
    expect(made.substrate).toMatchObject({
      glass: 'fused silica',
      thickness_mm: 9.5,
      lightCrossesIt: 'after the pattern',
    });
    expect(made.substrate.index).toBeCloseTo(fusedSilica(0.63281907), 9);
  });

  it('has the words of the scenario, in their units', () => {
    expect(made.scenario).toMatchObject({
      title: 'Sixteen words',
      parameters: [
        { name: 'rim', value: 12, unit: 'mm' },
        { name: 'lean', value: expect.closeTo(3, 9), unit: 'deg' },
        { name: 'half', value: 0.5, unit: '' },
      ],
      datums: {
        A: { kind: 'plane', point_mm: [1, 2, 3], normal: [0, 0, -1] },
        B: { kind: 'sphere', centre_mm: [4, 5, 6], diameter_mm: 220, side: 'outside' },
        C: { kind: 'cone', apex_mm: [0, 0, -60], axis: [0, 0, 1], angle_deg: expect.closeTo(160, 9) },
        D: { kind: 'torus', centre_mm: [0, 1, 20], diameter_mm: 70, tube_mm: 20 },
      },
      input: {
        light: { vacuumWavelength_nm: expect.closeTo(632.9908, 9) },
        interferometer: {
          beam: 'converging',
          focus_mm: [1, -2, 900],
          fNumber: 4.5,
          pixelsAcrossBeam: 700,
          readable_fringes: 0.05,
          laserPower_mW: expect.closeTo(3, 9),
        },
        substrate: {
          patternFaces: 'interferometer',
          thickness_mm: 9.5,
          edgeMargin_mm: 4,
          clearance_mm: expect.closeTo(0.6, 9),
        },
        process: {
          kind: 'chrome',
          minFeature_um: expect.closeTo(0.7, 9),
          dutyCycle: 0.45,
          placement_um: expect.closeTo(0.15, 9),
        },
        part: { origin_mm: [3, -4, 700], rotation_deg: [1, -2, 30].map((angle) => expect.closeTo(angle, 9)) },
      },
    });
  });
});
