/**
 * Patches read from frames that the project draws itself: that the parts are wired together, with the signs that steering means. Truth from
 * frames that share no code with src/ is in the tests beside. Fringes; references off by a few of them along each sense.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { add, scale, type Vec3 } from '../../../src/geometry/vector.ts';
import { aperturePicture } from '../../../src/metrology/camera/fringe-picture.ts';
import { apertureWindow } from '../../../src/metrology/camera/fringe-picture-window.ts';
import { plainMap } from '../../../src/metrology/frame/frame-map.ts';
import { readPatch, SURE_QUALITY } from '../../../src/metrology/frame/read-patch.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../../src/metrology/sensing/traced-readings.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import '../../machine/patience.ts';

function exampleOf(name: string): Design {
  const { scenario } = readScenario(readFileSync(`examples/${name}.yaml`, 'utf8'), name);
  const result = designScenario(scenario!);
  if ('findings' in result) throw new Error(name);
  return result.design;
}

const SIZE = 500;
const NOISE = 0.03;
/** Standard deviation of the fringes along each sense. */
const OFF = 2;
/** A frame of few patches: more than 95 of 100 lie within twice their uncertainty, and none far beyond. */
const FAR = 5;

function frameOf(design: Design, seed: string, orientation: CameraOrientation) {
  const random = randomFrom(seed);
  const references = new Map<string, Vec3>();
  for (const patch of design.patches) {
    const move = sensesOf(design, patch).reduce(
      (sum, { direction, fringesPerMm }) =>
        add(sum, scale(direction, (OFF * random.normal()) / fringesPerMm)),
      [0, 0, 0] as Vec3,
    );
    if (!references.has(patch.reference.id)) references.set(patch.reference.id, move);
  }
  const camera = { noise: NOISE, seed };
  const displacements = { references };
  const { grey } = aperturePicture(design, { size: SIZE, orientation, displacements, camera });
  const { centre, pitch } = apertureWindow(design, SIZE);
  const values = Float32Array.from(grey, (level) => level / 255);
  return {
    frame: { width: SIZE, height: SIZE, values, holds: 'intensity', levels: 255 } as const,
    map: plainMap(orientation, { centre, pitch, columns: SIZE, rows: SIZE }),
    truth: (patch: Design['patches'][number]) =>
      tracedFringes(design, patch)!(references.get(patch.reference.id)!)!,
  };
}

const TURNED: CameraOrientation = { view: 'part', turned: 90, mirrored: false };

test.each([PLAIN_ORIENTATION, TURNED])(
  'a line focus with a roof is read with its sign, whichever way the camera is turned: %o',
  (orientation) => {
    const design = exampleOf('converging-retroreflectors');
    const { frame, map, truth } = frameOf(design, 'lines', orientation);
    for (const patch of design.patches) {
      const reading = readPatch(design, patch, [frame], map);
      expect(reading).toMatchObject({ faults: [], signKnown: true });
      expect(reading.quality).toBeGreaterThan(SURE_QUALITY);
      const [value] = reading.values;
      const [fringes] = truth(patch);
      expect(Math.abs(value!.fringes - fringes!)).toBeLessThan(FAR * value!.uncertainty);
      expect(value!.uncertainty).toBeLessThan(0.01);
    }
  },
);
