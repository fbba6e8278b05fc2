/**
 * Patches read from pictures that the project draws itself: that its parts are wired together, with the signs that steering means, and what it
 * says where it cannot tell. Fringes; references off by a few of them along each sense. Frames that share no code with src/ are read
 * in other tests.
 */
import { describe, expect, test } from 'vitest';
import { readPatch, SURE_QUALITY } from '../../../src/metrology/frame/read-patch.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import '../../machine/patience.ts';
import { exampleOf, type Scene, sceneOf } from './scene.ts';

/** Standard uncertainties: of some dozens of readings none is that far off. */
const FAR = 4;

const lines = exampleOf('converging-retroreflectors');
const balls = exampleOf('infrared-collimated');
/** One patch of each reference, straight and aslant. */
const ONE_EACH = lines.patches.filter((_, k) => k % 3 === 0);
const TURNED: CameraOrientation = { view: 'part', turned: 90, mirrored: false };

/** By how many of its uncertainties the worst of a reading's values is off, its signs turned where that is nearer and they are open. */
function offBy({ truth }: Scene, { values, signKnown }: ReturnType<typeof readPatch>): number {
  const off = (sign: number): number =>
    Math.max(
      ...truth.map((fringes, k) => Math.abs(sign * values[k]!.fringes - fringes) / values[k]!.uncertainty),
    );
  return signKnown ? off(1) : Math.min(off(1), off(-1));
}

describe.each([PLAIN_ORIENTATION, TURNED])('with the camera turned so: %o', (orientation) => {
  test.each(ONE_EACH.map((patch) => [patch.id, patch] as const))(
    'the line focus %s is read with its sign',
    (id, patch) => {
      const scene = sceneOf(lines, patch, { seed: id, off: 2, orientation });
      const reading = readPatch(lines, patch, [scene.frame], scene.map);
      expect(reading).toMatchObject({ faults: [], signKnown: true });
      expect(reading.quality).toBeGreaterThan(SURE_QUALITY);
      expect(offBy(scene, reading)).toBeLessThan(FAR);
      const { uncertainty, diffraction } = reading.values[0]!;
      expect(Math.sqrt(uncertainty ** 2 - diffraction! ** 2)).toBeLessThan(0.01);
    },
  );
});

const round = balls.patches.find(({ id }) => id === 'lower-circle')!;

test('a ball without a bias is read in three directions, and the sign of all three is left open', () => {
  for (const seed of ['a', 'b']) {
    const scene = sceneOf(balls, round, { seed, off: 2 });
    const reading = readPatch(balls, round, [scene.frame], scene.map);
    expect(reading).toMatchObject({ faults: [], signKnown: false });
    expect(offBy(scene, reading)).toBeLessThan(FAR);
  }
});

test('frames in phase steps tell the sign if the direction of stepping is known', () => {
  for (const direction of [1, -1] as const) {
    const scenes = [0, 0.22, 0.51, 0.77].map((step) =>
      sceneOf(balls, round, { seed: 'steps', off: 1, piston: direction * step }),
    );
    const [scene] = scenes as [Scene];
    const frames = scenes.map(({ frame }) => frame);
    const known = readPatch(balls, round, frames, scene.map, { stepping: direction });
    expect(known.signKnown).toBe(true);
    expect(offBy(scene, known)).toBeLessThan(FAR);
    const reversed = readPatch(balls, round, frames, scene.map, { stepping: direction === 1 ? -1 : 1 });
    expect(offBy({ ...scene, truth: scene.truth.map((fringes) => -fringes) }, reversed)).toBeLessThan(
      2 * FAR,
    );
    expect(readPatch(balls, round, frames, scene.map, { stepping: 'unknown' }).signKnown).toBe(false);
  }
});

test('a phase map is read like frames, its sign from whether its waves are of the path', () => {
  for (const stepping of [1, -1] as const) {
    const scene = sceneOf(balls, round, { seed: 'map', off: 1, holds: 'phase', path: stepping });
    const reading = readPatch(balls, round, [scene.frame], scene.map, { stepping });
    expect(reading).toMatchObject({ signKnown: true, visibility: undefined });
    expect(offBy(scene, reading)).toBeLessThan(FAR);
  }
});

test('a place of the patch in the picture that is open by a pixel opens what it shows by itself', () => {
  const patch = balls.patches.find(({ id }) => id === 'upper-sector')!;
  const scene = sceneOf(balls, patch, { seed: 'open', off: 1 });
  const open = { ...scene.map, uncertainty: 1 };
  const [sure, unsure] = [scene.map, open].map((map) => readPatch(balls, patch, [scene.frame], map));
  for (const [k, value] of unsure!.values.entries())
    expect(value!.uncertainty).toBeGreaterThan(sure!.values[k]!.uncertainty);
});

describe('what cannot be read is said, and not read', () => {
  const patch = lines.patches[0]!;
  const scene = sceneOf(lines, patch, { seed: 'faults', off: 1 });
  const of = (change: (value: number, index: number) => number, map = scene.map) =>
    readPatch(lines, patch, [{ ...scene.frame, values: scene.frame.values.map(change) }], map);
  test.each([
    ['dark', of((value) => 0.01 * value)],
    ['washed-out', of((_, index) => 0.5 + 0.02 * Math.sin(index * index))],
    ['saturated', of((value) => Math.min(1, value + 0.9))],
    ['outside', of((value) => value, { ...scene.map, toPixel: ([x, y]) => [x + 5000, y] })],
  ] as const)('%s', (fault, reading) => {
    expect(reading.faults).toContain(fault);
    expect(reading.values).toEqual([undefined]);
    expect(reading.quality).toBe(0);
  });

  test('another picture than the patch shows is no reading', () => {
    const reading = of(
      (_, index) => 0.5 + 0.4 * Math.cos((index % 64) ** 2 / 60 + Math.floor(index / 64) ** 2 / 45),
    );
    expect(reading.values).toEqual([undefined]);
    expect(reading.signKnown).toBe(false);
  });
});
