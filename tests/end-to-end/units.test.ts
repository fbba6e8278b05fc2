/**
 * The same scenario in other units and by expressions: inches, metres, micrometres, radians and parameters against numbers of mm and degrees
 * worked out by hand (an inch is 25.4 mm exactly). Bare numbers are mm and degrees.
 */
import { expect, test } from 'vitest';
import { type Point, phasesOf, reportOf, type Words } from './support/command.ts';

interface Report {
  readonly light: { readonly wavelength_nm: number };
  readonly references: readonly { readonly at: readonly number[] }[];
  readonly patches: readonly {
    readonly centre: readonly number[];
    readonly lineDirection: readonly number[] | null;
  }[];
}

/** By hand: SMRs of 38.1 mm round a rim of 241.3 mm, 2800 mm off, and one at 60° given as a place. */
const PLAIN: Words = {
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [0, 0, -508], fNumber: 3.2 },
  substrate: { outline: { circle: { diameter: 152.4 } }, thickness: 6.35, index: 1.457 },
  part: {
    origin: [0, 0, 2800],
    rotation: [0, 0, 90],
    datums: {
      A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
      B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 241.3 } },
    },
  },
  references: [
    { id: 'a', kind: 'smr', diameter: 38.1, touches: [{ datum: 'B', azimuth: 45 }, { datum: 'A' }] },
    { id: 'b', kind: 'smr', diameter: 38.1, at: [69.85, 120.98374892521396, 2700] },
  ],
  patches: [
    {
      id: 'p',
      reference: 'a',
      focus: 'line',
      lineAngle: 30,
      centre: [-28.284271247461902, 28.284271247461902],
      outline: { rectangle: { width: 10, height: 12, rotation: 15 } },
      bias: { shape: 'roof', fringes: 1 },
    },
    {
      id: 'q',
      reference: 'b',
      focus: 'point',
      centre: [25.4, 12.7],
      outline: { circle: { diameter: 8 } },
      bias: { shape: 'tilt', fringes: 2, direction: 120 },
    },
  ],
};

const SPELLED: Words = {
  parameters: {
    smr: '1.5 in',
    rim: '9.5 in',
    away: '2.8 m',
    reach: '(rim + smr) / 2',
    aside: 'pi/3 * 1 rad',
    step: '40 mm',
  },
  light: { wavelength: '0.6328 um' },
  interferometer: { focus: [0, '0 nm', '-20 in'], fNumber: '6.4 / 2' },
  substrate: { outline: { circle: { diameter: '6 in' } }, thickness: '0.25 in', index: 1.457 },
  part: {
    origin: [0, 0, 'away'],
    rotation: [0, '0 rad', 'pi/2 * 1 rad'],
    datums: {
      A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
      B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 'rim' } },
    },
  },
  references: [
    {
      id: 'a',
      kind: 'smr',
      diameter: 'smr',
      touches: [{ datum: 'B', azimuth: '785398.1633974483 urad' }, { datum: 'A' }],
    },
    {
      id: 'b',
      kind: 'smr',
      diameter: 'smr',
      at: ['reach * cos(aside)', 'reach * sin(60 deg)', 'away - 10 cm'],
    },
  ],
  patches: [
    {
      id: 'p',
      reference: 'a',
      focus: 'line',
      lineAngle: '523.5987755982989 mrad',
      centre: ['step * cos(135 deg)', 'step * sin(135 deg)'],
      outline: { rectangle: { width: '1 cm', height: '12000 um', rotation: '54000 arcsec' } },
      bias: { shape: 'roof', fringes: 1 },
    },
    {
      id: 'q',
      reference: 'b',
      focus: 'point',
      centre: ['1 in', '500 mil'],
      outline: { circle: { diameter: '2 * 4 mm' } },
      bias: { shape: 'tilt', fringes: 2, direction: '2 * aside' },
    },
  ],
};

const POINTS: readonly Point[] = [
  [-28, 28.3],
  [-25, 31],
  [26, 14],
];
const close = (found: readonly number[], expected: readonly number[]): void =>
  found.forEach((value, k) => {
    expect(Math.abs(value - expected[k]!)).toBeLessThan(1e-9);
  });

test('places, directions and wavelength by hand', async () => {
  const { light, references, patches } = await reportOf<Report>(SPELLED);
  expect(light.wavelength_nm).toBeCloseTo(632.8, 9);
  // At the part's azimuth of 45° on a rim of 120.65 mm and a ball of 19.05 mm, turned by 90° to 135°.
  const out = 139.7 * Math.SQRT1_2;
  close(references[0]!.at, [-out, out, 2780.95]);
  close(references[1]!.at, [69.85, 69.85 * Math.sqrt(3), 2700]);
  close(patches[0]!.centre, [-40 * Math.SQRT1_2, 40 * Math.SQRT1_2]);
  close(patches[1]!.centre, [25.4, 12.7]);
  // In the plane of ℓ̂ and the chief ray lies the stated direction at 30°: square to that plane's normal.
  const [lx, ly, lz] = patches[0]!.lineDirection!;
  const ray = [-out + 40 * Math.SQRT1_2, out - 40 * Math.SQRT1_2, 2780.95] as const;
  const [c, s] = [Math.sqrt(3) / 2, 0.5];
  close([lx! * ray[0] + ly! * ray[1] + lz! * ray[2]], [0]);
  close([(c * ly! - s * lx!) * ray[2] - lz! * (c * ray[1] - s * ray[0])], [0]);
  expect(lx! * c + ly! * s).toBeGreaterThan(0);
});

test('phases are the same', async () => {
  for (const patch of ['p', 'q']) {
    const [spelled, plain] = await Promise.all([
      phasesOf(SPELLED, patch, POINTS),
      phasesOf(PLAIN, patch, POINTS),
    ]);
    spelled.forEach((value, k) => {
      expect(Math.abs(value - plain[k]!)).toBeLessThan(1e-6);
    });
  }
});
