/** A whole frame: every patch but the screens, each at its place, and what is read as readings for steering. */
import { describe, expect, test } from 'vitest';
import { scale, type Vec3 } from '../../../src/geometry/vector.ts';
import { aperturePicture } from '../../../src/metrology/camera/fringe-picture.ts';
import { readFrames } from '../../../src/metrology/frame/read-frames.ts';
import { toBenchReading } from '../../../src/metrology/frame/to-bench-reading.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../../src/metrology/sensing/traced-readings.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import type { CameraOrientation } from '../../../src/scenario/camera-orientation.ts';
import '../../machine/patience.ts';
import { exampleOf } from './scene.ts';

const SIZE = 400;
const orientation: CameraOrientation = { view: 'part', turned: 180, mirrored: true };
/** Of a frame without noise but of the levels of grey and the steps of its pixels. */
const NEAR = 0.02;

const design = exampleOf('full-bench');
const references = new Map<string, Vec3>();
for (const patch of design.patches) {
  const [sense] = sensesOf(design, patch);
  if (sense !== undefined && !references.has(patch.reference.id))
    references.set(patch.reference.id, scale(sense.direction, 1.3 / sense.fringesPerMm));
}
const { grey } = aperturePicture(design, { size: SIZE, orientation, displacements: { references } });
const frame: CameraFrame = {
  ...{ width: SIZE, height: SIZE, holds: 'intensity', levels: 255 },
  values: Float32Array.from(grey, (level) => level / 255),
};

describe('a frame of a whole bench', () => {
  const reading = readFrames(design, [frame], { orientation });

  test('has a reading of every patch but the screens, in the order of the design', () => {
    const read = design.patches.filter(({ reference }) => reference.kind !== 'screen');
    expect(reading.patches.map(({ patch }) => patch.id)).toEqual(read.map(({ id }) => id));
  });

  test('shows what the displaced references show', () => {
    const lines = reading.patches.filter(({ patch }) => patch.lineDirection !== undefined);
    expect(lines.length).toBeGreaterThan(3);
    for (const { patch, values, signKnown } of lines) {
      const [fringes] = tracedFringes(design, patch)!(references.get(patch.reference.id)!)!;
      expect(signKnown).toBe(true);
      expect(Math.abs(values[0]!.fringes - fringes!)).toBeLessThan(NEAR);
    }
  });

  test('is read for steering in the same fringes, the uncertainty that of the least certain one', () => {
    for (const each of reading.patches) {
      const bench = toBenchReading(each);
      if (each.values.every((value) => value === undefined)) {
        expect(bench).toBeUndefined();
        continue;
      }
      const uncertainties = each.values.flatMap((value) => value?.uncertainty ?? []);
      expect(bench).toEqual({
        ...{ kind: 'fringes', patch: each.patch.id, signKnown: each.signKnown },
        fringes: each.values.map((value) => value?.fringes),
        uncertainty: Math.max(...uncertainties),
      });
    }
  });
});

test('frames in phase steps are of one size, and there is one at least', () => {
  expect(() => readFrames(design, [])).toThrow(RangeError);
  expect(() => readFrames(design, [frame, { ...frame, height: SIZE - 1 }])).toThrow(RangeError);
});
