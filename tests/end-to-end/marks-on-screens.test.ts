/**
 * The marks that a report says patches project on a screen, against closed forms: the efficiency of a binary grating's order, amplitude
 * (sin πmD/πm)² and phase of half a wave (2 sin πmD/πm)² (J. W. Goodman, Introduction to Fourier Optics, 4.4; figures of Y.-C. Chang, P. Zhou,
 * J. H. Burge, Appl. Opt. 45, 4223, 2006, recomputed), and the foci of apertures: 2.44λs/D across the dark ring of a round one, 2λs/D from
 * zero to zero of a line. Straight ahead in collimated light; peak against the beam on the patch η(A/λs)² of a spot, ηD²/(λs) of a line.
 */
import { expect, test } from 'vitest';
import { reportOf, type Words } from './support/command.ts';

interface Mark {
  readonly shape: string;
  readonly efficiency: number;
  readonly widths_um: readonly number[];
  readonly length_mm: number | null;
  readonly peakAgainstBeam: number;
  readonly shareOfBeam: number;
  readonly power_uW: number;
}

const WAVELENGTH = 632.8e-6;
const S = 800;
const BEAM = 120;
const POWER = 2e-3;

async function markOf(process: Words, patch: Words): Promise<Mark> {
  const { patches } = await reportOf<{ patches: readonly { readonly mark: Mark }[] }>({
    interferometer: { collimated: true, beamDiameter: BEAM, laserPower: '2 mW' },
    process,
    references: [{ id: 's', kind: 'screen', at: [0, 0, S] }],
    patches: [{ id: 'p', reference: 's', centre: [0, 0], ...patch }],
  });
  return patches[0]!.mark;
}

const ROUND: Words = { focus: 'point', outline: { circle: { diameter: 8 } } };
const EFFICIENCIES = [
  ['chrome', 0.5, 1, 0.101321],
  ['chrome', 0.5, -1, 0.101321],
  ['chrome', 0.5, 3, 0.011258],
  ['chrome', 0.3, 1, 0.066316],
  ['chrome', 0.3, 2, 0.022911],
  ['etched', 0.5, 1, 0.405285],
  ['etched', 0.5, -3, 0.045032],
  ['etched', 0.3, 1, 0.265262],
  ['etched', 0.3, 2, 0.091646],
] as const;

test.each(EFFICIENCIES)(
  '%s at duty %f, order %i: a share of %f',
  async (kind, dutyCycle, order, efficiency) => {
    const mark = await markOf({ kind, dutyCycle }, { ...ROUND, order });
    expect(mark.efficiency).toBeCloseTo(efficiency, 6);
    const share = mark.efficiency * (8 / BEAM) ** 2;
    expect(mark.shareOfBeam / share).toBeCloseTo(1, 9);
    expect(mark.power_uW / (share * POWER * 1e6)).toBeCloseTo(1, 9);
  },
);

test('a round patch makes a spot as wide as the dark ring', async () => {
  const mark = await markOf({}, ROUND);
  expect(mark.shape).toBe('spot');
  for (const width of mark.widths_um)
    expect(width).toBeCloseTo((2 * 1.21966989 * WAVELENGTH * S * 1e3) / 8, 4);
  const peak = 0.405285 * ((Math.PI * 16) / (WAVELENGTH * S)) ** 2;
  expect(Math.abs(mark.peakAgainstBeam / peak - 1)).toBeLessThan(1e-5);
});

test('a line is as narrow as its patch is wide across it, and as long as it is along it', async () => {
  const patch = { focus: 'line', lineAngle: 90, outline: { rectangle: { width: 10, height: 6 } } };
  const mark = await markOf({}, patch);
  expect(mark.shape).toBe('line');
  expect(mark.widths_um).toHaveLength(1);
  expect(mark.widths_um[0]).toBeCloseTo((2 * WAVELENGTH * S * 1e3) / 10, 6);
  expect(mark.length_mm).toBeCloseTo(6, 9);
  expect(Math.abs(mark.peakAgainstBeam / ((0.405285 * 10 ** 2) / (WAVELENGTH * S)) - 1)).toBeLessThan(1e-5);
});
