/**
 * What report.json says of patches whose light goes to no ball or cube: the marks on a screen by textbook formulas, and the fringes that
 * a return ring and datum features show for motions, by exact distances. Units as the keys name them.
 */
import { describe, expect, test } from 'vitest';
import type { Place } from '../independent/fermat.ts';
import { wayToSurface } from '../independent/foot.ts';
import {
  chiefRayOf,
  fromPart,
  lineDirectionOf,
  outer,
  type PatchWords,
  patchWords,
  plus,
  referenceWords,
  type Scene,
} from '../independent/scene.ts';
import { edgePoints } from '../independent/scene-outline.ts';
import type { Field } from '../independent/scene-phase.ts';
import { distanceIn, seenWidth, sensesIn } from '../independent/scene-senses.ts';
import { placesIn, range, within } from './support/figures.ts';
import { reportOfScene } from './support/made-report.ts';
import { DATUM_SCENE, DUTY_CYCLE, F_NUMBER, FOCUS, REPORT_SCENE } from './support/report-scene.ts';

const UM = 1000;
const WAVELENGTH = REPORT_SCENE.light.wavelength;
const FOCUS_HEIGHT = Math.abs(FOCUS[2]);
/** Screen and return ring alone. */
const OTHERS: Scene = {
  ...REPORT_SCENE,
  measurements: [],
  patches: REPORT_SCENE.patches.filter(({ reference }) => ['wall', 'itself'].includes(reference)),
};
const ALL = [OTHERS, DATUM_SCENE].flatMap((scene) =>
  reportOfScene(scene).report.patches.map((row) => [row.id, row] as const),
);
const ofKind = (kind: string) => ALL.filter(([, row]) => row.kind === kind);

describe('marks on the screen', () => {
  const efficiency = (Math.sin(Math.PI * DUTY_CYCLE) / Math.PI) ** 2; // Goodman: chrome, order 1
  const beam = Math.PI * (FOCUS_HEIGHT / (2 * F_NUMBER)) ** 2;

  test.each(ofKind('screen'))('%s', (id, row) => {
    const patch = patchWords(REPORT_SCENE, id);
    const [s, chief] = [distanceIn(REPORT_SCENE, patch), chiefRayOf(REPORT_SCENE, patch)];
    const area = patch.outline.circle
      ? (Math.PI / 4) * patch.outline.circle.diameter ** 2
      : patch.outline.rectangle!.width * patch.outline.rectangle!.height;
    const senses = sensesIn(REPORT_SCENE, patch).slice(0, patch.focus === 'line' ? 1 : 2);
    const widths = senses.map((sense) => seenWidth(patch, sense));
    const mark = row.mark!;
    expect(mark.shape).toBe(patch.focus === 'line' ? 'line' : 'spot');
    // From zero to zero: 2λs/D of a strip, 2.44 λs/D of a round one.
    const zeros = patch.outline.circle ? 2 * 1.21966989 : 2;
    mark.widths_um.forEach((width, k) => {
      within(width, (UM * zeros * WAVELENGTH * s) / widths[k]!, 1e-3);
    });
    if (patch.focus === 'line')
      within(mark.length_mm, seenWidth(patch, lineDirectionOf(REPORT_SCENE, patch)), 1e-6);
    else expect(mark.length_mm).toBeNull();
    within(mark.efficiency, efficiency, 1e-9);
    within(mark.shareOfBeam, (efficiency * area) / beam, 1e-6);
    within(mark.power_uW, 2000 * mark.shareOfBeam, 1e-9);
    const peak =
      patch.focus === 'line'
        ? widths[0]! ** 2 / (WAVELENGTH * s)
        : ((area * chief[2]) / (WAVELENGTH * s)) ** 2;
    within(mark.peakAgainstBeam, efficiency * peak, 1e-3);
    expect([row.returnedShare, row.fresnelNumber, row.resolution_um, row.bias.fringesAtNull]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });
});

/** Fringes over the patch, peak to valley, between two fields of waves. */
const seenBetween = (patch: PatchWords, one: Field, other: Field): number =>
  range(placesIn(patch, 12).map(([x, y]) => one(x, y) - other(x, y)));
const AXES: readonly Place[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const SMALL = 1e-3;

describe('fringes of motions', () => {
  test('a return ring counts those of the hologram, about the substrate’s origin', () => {
    const { motion } = ofKind('return')[0]![1];
    const patch = patchWords(REPORT_SCENE, 'itself');
    const seen =
      (move: (at: Place) => Place): Field =>
      (x, y) =>
        (2 / WAVELENGTH) * Math.hypot(...plus(plus([x, y, 0], move([x, y, 0])), FOCUS, -1));
    const rest = seen(() => [0, 0, 0]);
    AXES.forEach((axis, k) => {
      const moved = seen(() => scaled(axis, SMALL));
      within(
        Object.values(sorted(motion!.fringesPerUm))[k]!,
        seenBetween(patch, moved, rest),
        0.02,
        `move ${k}`,
      );
      const turned = seen((at) => scaled(outer(axis, at), SMALL));
      within(
        Object.values(sorted(motion!.fringesPerUrad))[k]!,
        seenBetween(patch, turned, rest) * (1e-6 / SMALL),
        0.02,
        `turn ${k}`,
      );
    });
    expect(motion).toMatchObject({ of: 'hologram', frame: 'substrate' });
  });

  test.each(ofKind('datum'))(
    '%s counts those of the part, in its own frame and about its own origin',
    (id, row) => {
      const patch = patchWords(DATUM_SCENE, id);
      const way = wayToSurface(
        DATUM_SCENE,
        DATUM_SCENE.part!.datums![referenceWords(DATUM_SCENE, patch).datum!]!,
      );
      // The part moved is the pattern moved the other way, to first order.
      const seen =
        (move: (at: Place) => Place): Field =>
        (x, y) =>
          (2 / WAVELENGTH) * way(plus([x, y, 0], move([x, y, 0]), -1));
      const rest = seen(() => [0, 0, 0]);
      const origin = DATUM_SCENE.part!.origin!;
      AXES.forEach((axis, k) => {
        const along = fromPart(DATUM_SCENE, axis);
        const perUm = seenBetween(
          patch,
          seen(() => scaled(along, SMALL)),
          rest,
        );
        const found = Object.values(sorted(row.motion!.fringesPerUm))[k]!;
        expect(Math.abs(found - perUm)).toBeLessThan(0.02 * perUm + 1e-6);
        const perUrad =
          seenBetween(
            patch,
            seen((at) => scaled(outer(along, plus(at, origin, -1)), 1e-5)),
            rest,
          ) * 0.1;
        expect(Math.abs(Object.values(sorted(row.motion!.fringesPerUrad))[k]! - perUrad)).toBeLessThan(
          0.02 * perUrad + 1e-6,
        );
      });
      expect(row.motion).toMatchObject({ of: 'part', frame: 'part' });
    },
  );

  test.each(ofKind('datum'))('%s has the Fresnel number of a mirror concentric with its wave', (id, row) => {
    const patch = patchWords(DATUM_SCENE, id);
    const words = DATUM_SCENE.part!.datums![referenceWords(DATUM_SCENE, patch).datum!]!;
    const way = wayToSurface(DATUM_SCENE, words);
    const longest = Math.max(...edgePoints(patch, 64).map(([x, y]) => way([x, y, 0])));
    const { outer: large, inner: small } = patch.outline.ring!;
    const bend = words.sphere ? 1 + longest / (words.sphere.diameter / 2) : 1;
    within(row.fresnelNumber, ((large - small) / 4) ** 2 / (WAVELENGTH * 2 * longest * bend), 0.005);
    expect(row.returnedShare).toBe(1);
  });
});

/** The keys of an object by their alphabet: x, y, z and rx, ry, rz. */
const sorted = <Value>(record: Readonly<Record<string, Value>>): Record<string, Value> =>
  Object.fromEntries(Object.entries(record).sort(([a], [b]) => (a < b ? -1 : 1)));
const scaled = (a: Place, by: number): Place => [a[0] * by, a[1] * by, a[2] * by];
