/** Patches as the project's scalar diffraction has them, without noise, read; references off by up to some fringes a sense. Fringes. */
import { randomFrom } from '../../../../src/algebra/random.ts';
import type { Design, DesignedPatch } from '../../../../src/design/design.ts';
import { add, scale, type Vec3 } from '../../../../src/geometry/vector.ts';
import { benchState } from '../../../../src/metrology/camera/fringe-picture-displacements.ts';
import { diffractedLight, patchPixels } from '../../../../src/metrology/camera/fringe-picture-light.ts';
import { patchWindow } from '../../../../src/metrology/camera/fringe-picture-window.ts';
import { readPatch } from '../../../../src/metrology/frame/read-patch.ts';
import { plainMap } from '../../../../src/metrology/location/frame-map.ts';
import { sensesOf } from '../../../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../../../src/metrology/sensing/traced-readings.ts';
import type { CameraFrame } from '../../../../src/scenario/camera-frame.ts';
import { type Judged, judged } from './judged.ts';

const LEVEL = 0.2;
/** Of the tilt, the part that the power is off by. */
const POWER = 0.2;
/** What a picture's window shows is seen from the part. */
const FROM_PART = { view: 'part', turned: 0, mirrored: false } as const;

/** Undefined for what diffraction has no model of. `size`: pixels of the window about the patch. */
export function readDiffracted(
  design: Design,
  patch: DesignedPatch,
  { seed, off, size }: { readonly seed: string; readonly off: number; readonly size: number },
): Judged | undefined {
  const random = randomFrom(seed + patch.id);
  const senses = sensesOf(design, patch);
  if (senses.length === 0) return undefined;
  const move = senses.reduce(
    (sum, { direction, fringesPerMm }, k) =>
      add(sum, scale(direction, ((k === 2 ? POWER : 1) * off * (2 * random.uniform() - 1)) / fringesPerMm)),
    [0, 0, 0] as Vec3,
  );
  const bench = benchState(design, { references: new Map([[patch.reference.id, move]]) });
  const window = patchWindow(patch, size);
  const light = diffractedLight(design, patch, bench, patchPixels(patch, window));
  if (light === undefined) return undefined;
  const values = new Float32Array(size * size);
  for (let at = 0; at < values.length; at++) {
    const [re, im] = [light.re[at - light.start] ?? 0, light.im[at - light.start] ?? 0];
    values[at] = LEVEL * ((1 + re) ** 2 + im ** 2);
  }
  const frame: CameraFrame = { width: size, height: size, values, holds: 'intensity' };
  const map = plainMap(FROM_PART, {
    ...{ centre: window.centre, pitch: window.pitch, columns: size, rows: size },
  });
  const truth = tracedFringes(design, patch)!(move)!;
  const kind = senses.length === 1 ? 'line' : 'ball';
  return judged({ id: patch.id, kind, truth }, readPatch(design, patch, [frame], map), 'waves');
}
