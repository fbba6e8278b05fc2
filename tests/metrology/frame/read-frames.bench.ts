/** Frames read per second on one core: 1,000 pixels a side, nine patches of some 60 pixels each, all at their places but for some fringes. */
import { bench, describe } from 'vitest';
import { scale, type Vec3 } from '../../../src/geometry/vector.ts';
import { aperturePicture } from '../../../src/metrology/camera/fringe-picture.ts';
import { readFrames } from '../../../src/metrology/frame/read-frames.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import { exampleOf } from './scene.ts';

const SIZE = 1000;
const design = exampleOf('converging-retroreflectors');
const references = new Map<string, Vec3>();
for (const patch of design.patches) {
  const { direction, fringesPerMm } = sensesOf(design, patch)[0]!;
  if (!references.has(patch.reference.id))
    references.set(patch.reference.id, scale(direction, 2.3 / fringesPerMm));
}
const { grey } = aperturePicture(design, {
  ...{ size: SIZE, orientation: PLAIN_ORIENTATION },
  ...{ displacements: { references }, camera: { noise: 0.03 } },
});
const frame: CameraFrame = {
  ...{ width: SIZE, height: SIZE, holds: 'intensity', levels: 255 },
  values: Float32Array.from(grey, (level) => level / 255),
};

describe('nine line foci in a frame of 1,000 pixels', () => {
  bench('read', () => {
    readFrames(design, [frame], { orientation: PLAIN_ORIENTATION });
  });
});
