/**
 * The figures that report.json gives of a patch, each against a second computation from the scene's words: exact distances, periods by
 * sampling, fringes from optical paths, textbook formulas for foci and efficiencies. Units as the keys name them.
 */
import { describe, expect, test } from 'vitest';
import type { Place } from '../independent/fermat.ts';
import {
  chiefRayOf,
  lineDirectionOf,
  type PatchWords,
  type Point,
  patchWords,
  referenceWords,
  type Scene,
  targetOf,
} from '../independent/scene.ts';
import { outsideBy } from '../independent/scene-outline.ts';
import { type Field, sceneBias, scenePhase, sceneSmoothPhase, slopeOf } from '../independent/scene-phase.ts';
import {
  closestFringes,
  distanceIn,
  fringesSeen,
  narrowestSeen,
  seenWidth,
  sensesIn,
} from '../independent/scene-senses.ts';
import { jsonPatches, jsonPhase } from './support/coefficient-text.ts';
import { closeTo, placesIn, range, within } from './support/figures.ts';
import { reportOfScene } from './support/made-report.ts';
import { DATUM_SCENE, F_NUMBER, FOCUS, PIXELS, READABLE, REPORT_SCENE } from './support/report-scene.ts';

const UM = 1000;
const WAVELENGTH = REPORT_SCENE.light.wavelength;
const FOCUS_HEIGHT = Math.abs(FOCUS[2]);
const main = reportOfScene(REPORT_SCENE);
const onDatums = reportOfScene(DATUM_SCENE);
const ALL = [
  ...main.report.patches.map((row) => [row.id, row, REPORT_SCENE] as const),
  ...onDatums.report.patches.map((row) => [row.id, row, DATUM_SCENE] as const),
];
const ofKind = (...kinds: string[]) => ALL.filter(([, { kind }]) => kinds.includes(kind));
const READ = ofKind('ball', 'smr');

/** Patches of the scene whose light is lost before their fringes are too close, one way or both: capture-range.test.ts has that limit. */
const LOST_FIRST = ['folded', 'long'];

/** Along the line or across it, whichever is less: of a rectangle the mean over its extent in the other direction. */
function narrowestByLine(scene: Scene, patch: PatchWords): number {
  const [along, across] = [lineDirectionOf(scene, patch), sensesIn(scene, patch)[0]!].map((direction) =>
    seenWidth(patch, direction),
  ) as [number, number];
  const { rectangle } = patch.outline;
  if (rectangle === undefined) return Math.min(along, across);
  const area = rectangle.width * rectangle.height * chiefRayOf(scene, patch)[2];
  return Math.min(along, across, area / across, area / along);
}

/** Twelve digits of coefficients of thousands of waves, and paths in doubles, waves. */
const ROUNDING = 3e-6;

describe.each(ALL)('patch %s', (id, row, scene) => {
  const patch = patchWords(scene, id);

  test('names what the scene names', () => {
    const { kind } = referenceWords(scene, patch);
    const { reference, focus, centre, order = 1 } = patch;
    expect(row).toMatchObject({ id, reference, kind, focus, centre, order });
    expect(row.bias).toMatchObject({ shape: patch.bias?.shape ?? 'none', fringes: patch.bias?.fringes ?? 0 });
  });

  test('has its smallest and its largest period, and where the smallest is', () => {
    const phase = scenePhase(scene, id);
    // On a ridge, and across it, differences mean nothing.
    const bias = patch.bias?.shape === 'roof' ? patch.bias : undefined;
    const clear = ([x, y]: Point): boolean =>
      bias === undefined || Math.abs(sceneBias(scene, patch)(x, y)) > 0.02 * Math.abs(bias.fringes / 2);
    const periods = placesIn(patch)
      .filter(clear)
      .map(([x, y]) => UM / Math.hypot(...slopeOf(phase, x, y)));
    const { min, max } = row.period_um;
    const minAt = row.minPeriodAt_mm;
    expect(min).toBeLessThan(max);
    expect(min).toBeLessThan(Math.min(...periods) * (1 + 1e-6));
    within(min, Math.min(...periods), 0.02);
    expect(max).toBeGreaterThan(Math.max(...periods) * (1 - 1e-6));
    expect(outsideBy(patch, minAt)).toBeLessThan(1e-6);
    within(min, UM / Math.hypot(...slopeOf(phase, ...minAt)), 1e-4);
  });

  test('has the residual of its polynomial', () => {
    const { coefficients } = scene === REPORT_SCENE ? main : onDatums;
    const polynomial = jsonPhase(jsonPatches(coefficients).find((one) => one.id === id)!, 'xy')!;
    const smooth = sceneSmoothPhase(scene, id);
    const bias: Field = patch.bias?.shape === 'tilt' ? sceneBias(scene, patch) : () => 0;
    const residuals = placesIn(patch).map(([x, y]) => smooth(x, y) + bias(x, y) - polynomial(x, y));
    const { pv, rms, worst } = row.fitResidual_waves;
    const found = Math.max(...residuals.map(Math.abs));
    expect(worst).toBeGreaterThan(found - ROUNDING);
    expect(worst).toBeLessThan(1.3 * found + ROUNDING);
    expect(pv).toBeGreaterThan(range(residuals) - 2 * ROUNDING);
    expect(pv).toBeLessThan(1.3 * range(residuals) + 2 * ROUNDING);
    expect(rms).toBeLessThan(worst);
    expect(rms).toBeGreaterThan(0.1 * worst);
  });
});

describe.each(ofKind('ball', 'smr', 'screen'))('patch %s', (id, row, scene) => {
  const patch = patchWords(scene, id);

  test('has its target, its distance, its line and what it senses, in this order and with these signs', () => {
    closeTo(row.target, targetOf(scene, patch));
    within(row.distance_mm, distanceIn(scene, patch), 1e-9);
    if (patch.focus === 'line') closeTo(row.lineDirection!, lineDirectionOf(scene, patch));
    else expect(row.lineDirection).toBeNull();
    const senses = sensesIn(scene, patch);
    expect(row.senses).toHaveLength(senses.length);
    row.senses.forEach((sense, k) => {
      closeTo(sense, senses[k]!);
    });
  });
});

describe.each(READ)('patch %s', (id, row, scene) => {
  const patch = patchWords(scene, id);
  const senses = sensesIn(scene, patch);

  test('counts fringes for each µm along each sense as the paths do, and resolves by them', () => {
    senses.forEach((sense, k) => {
      const perUm = fringesSeen(scene, patch, sense, 1e-3);
      // The figure is that of first order, over the width that is seen; power counts to the edge of a round patch.
      within(
        row.fringesPerUmAlongSenses[k]!,
        perUm,
        k === 2 && !patch.outline.circle ? 0.12 : 0.02,
        `sense ${k}`,
      );
      within(row.resolutionAlongSenses_um[k]!, READABLE / row.fringesPerUmAlongSenses[k]!, 1e-9);
    });
    const lateral = row.resolutionAlongSenses_um.slice(0, patch.focus === 'line' ? 1 : 2);
    within(row.resolution_um, Math.max(...lateral), 1e-9);
  });

  test('answers as far as half a fringe a pixel, its bias on top, or less far where light is lost first', () => {
    const mmPerPixel = FOCUS_HEIGHT / F_NUMBER / PIXELS;
    senses.forEach((sense, k) => {
      const move = row.captureRangeAlongSenses_um[k]! / UM;
      const density = [1, -1].map(
        (sign) =>
          closestFringes(scene, patch, sense.map((entry) => sign * move * entry) as unknown as Place) *
          mmPerPixel,
      );
      expect(Math.max(...density)).toBeLessThan(0.5 * 1.06);
      if (!LOST_FIRST.includes(id)) within(Math.max(...density), 0.5, 0.06, `sense ${k}`);
      expect(row.readableRangeAlongSenses_um[k]).toBeLessThanOrEqual(row.captureRangeAlongSenses_um[k]!);
    });
  });

  test('has the Fresnel number of its round trip', () => {
    const s = distanceIn(scene, patch);
    const { kind, diameter = 0 } = referenceWords(scene, patch);
    const half = (kind === 'ball' ? narrowestSeen(scene, patch) : narrowestByLine(scene, patch)) / 2;
    const element = kind === 'ball' ? (2 * s * (s - diameter / 2)) / (diameter / 2) : 2 * s;
    within(row.fresnelNumber, half ** 2 / (WAVELENGTH * element), 1e-3);
  });

  test('shows at the design place the fringes that were asked for', () => {
    const { fringesAtNull } = row.bias;
    if (patch.bias === undefined) expect(Math.abs(fringesAtNull!)).toBeLessThan(1e-3);
    else within(fringesAtNull, patch.bias.fringes, 0.01);
  });

  test('accounts for all of its light', () => {
    const { returnedShare, lossShares } = row;
    const lost = Object.values(lossShares!);
    for (const share of [returnedShare!, ...lost]) expect(share >= 0 && share <= 1).toBe(true);
    expect(returnedShare! + lost.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
    const { outsideAperture, deadZone, besidePatch } = lossShares!;
    // 26 mm of a line before a mouth of less than 13; the edges of a cube, and no ball, have a dead zone; a bias puts light beside.
    expect(outsideAperture! > 0.5).toBe(id === 'long');
    expect(deadZone! > 0).toBe(row.kind === 'smr');
    if (patch.bias !== undefined) expect(besidePatch!).toBeGreaterThan(0);
  });
});
