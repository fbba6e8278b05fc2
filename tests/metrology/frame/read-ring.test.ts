/**
 * Rings read from pictures that the project draws itself, the hologram or the part moved: tilt along x, along y and power from the inner edge
 * to the outer, as steering counts them. A ring has no bias: one frame leaves the sign of all three open. Fringes.
 */
import { expect, test } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import type { Vec3 } from '../../../src/geometry/vector.ts';
import { patchPicture } from '../../../src/metrology/camera/fringe-picture.ts';
import type { Displacements } from '../../../src/metrology/camera/fringe-picture-displacements.ts';
import { patchWindow } from '../../../src/metrology/camera/fringe-picture-window.ts';
import { readPatch } from '../../../src/metrology/frame/read-patch.ts';
import { plainMap } from '../../../src/metrology/location/frame-map.ts';
import { ringCountsAt } from '../../../src/metrology/rings/ring-trace.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import '../../machine/patience.ts';
import { ringDesign } from '../support/ring-scene.ts';

const SIZE = 240;
const NOISE = 0.03;
/** Some fringes over each of the rings: mm, radians. */
const MOVE: Vec3 = [2e-3, -3e-3, 4e-3];
const TURN: Vec3 = [1.5e-5, -1e-5, 0];
/** Standard uncertainties. */
const FAR = 4;

const design = ringDesign('after');
const motion = { translation: MOVE, rotation: TURN };

test.each(design.patches.map((patch) => [patch.id, patch] as const))('the ring on %s', (id, patch) => {
  const displacements: Displacements = id === 'back' ? { hologram: motion } : { part: motion };
  const { grey } = patchPicture(design, patch, {
    size: SIZE,
    orientation: PLAIN_ORIENTATION,
    displacements,
  })!;
  const random = randomFrom(id);
  const values = Float32Array.from(grey, (level) => 0.1 + (0.8 * level) / 255 + NOISE * random.normal());
  const map = plainMap(PLAIN_ORIENTATION, { ...patchWindow(patch, SIZE), columns: SIZE, rows: SIZE });
  const reading = readPatch(design, patch, [{ width: SIZE, height: SIZE, values, holds: 'intensity' }], map);
  expect(reading).toMatchObject({ faults: [], signKnown: false });
  const off = (sign: number): number =>
    Math.max(
      ...ringCountsAt(design, patch, displacements)!.map((count, k) => {
        const { fringes, uncertainty } = reading.values[k]!;
        return Math.abs(sign * fringes - count) / uncertainty;
      }),
    );
  expect(Math.min(off(1), off(-1))).toBeLessThan(FAR);
});
