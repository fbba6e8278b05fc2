/** A patch's picture by the project's own rays in a small window, with noise if wished, read. Fringes, mm, levels of full scale. */
import { randomFrom } from '../../../../src/algebra/random.ts';
import type { Design, DesignedPatch } from '../../../../src/design/design.ts';
import type { Vec3 } from '../../../../src/geometry/vector.ts';
import { benchState } from '../../../../src/metrology/camera/fringe-picture-displacements.ts';
import { patchPixels, tracedLight } from '../../../../src/metrology/camera/fringe-picture-light.ts';
import { returnBranches } from '../../../../src/metrology/camera/fringe-picture-return.ts';
import { patchWindow } from '../../../../src/metrology/camera/fringe-picture-window.ts';
import { readPatch } from '../../../../src/metrology/frame/read-patch.ts';
import { plainMap } from '../../../../src/metrology/location/frame-map.ts';
import { tracedFringes } from '../../../../src/metrology/sensing/traced-readings.ts';
import { type Judged, judged } from './judged.ts';

const LIGHT = { level: 0.5, amplitude: 0.36, dark: 0.05 } as const;
/** What a picture's window shows is seen from the part. */
const FROM_PART = { view: 'part', turned: 0, mirrored: false } as const;

/** `size`: pixels a side. */
export function readByRays(
  design: Design,
  patch: DesignedPatch,
  move: Vec3,
  size: number,
  noise?: { readonly sigma: number; readonly seed: string },
): Judged {
  const bench = benchState(design, { references: new Map([[patch.reference.id, move]]) });
  const window = patchWindow(patch, size);
  const light = tracedLight(patch, returnBranches(design, patch, bench), patchPixels(patch, window));
  const values = new Float32Array(size * size).fill(LIGHT.dark);
  for (let i = 0; i < values.length; i++) {
    const [re, im] = [light.re[i - light.start] ?? 0, light.im[i - light.start] ?? 0];
    if (Math.hypot(re, im) > 0) values[i] = LIGHT.level + LIGHT.amplitude * Math.cos(Math.atan2(im, re));
  }
  if (noise !== undefined) {
    const random = randomFrom(noise.seed);
    values.forEach((value, i) => {
      values[i] = value + noise.sigma * random.normal();
    });
  }
  const grid = { centre: window.centre, pitch: window.pitch, columns: size, rows: size };
  const frame = { width: size, height: size, values, holds: 'intensity' } as const;
  const truth = tracedFringes(design, patch)!(move)!;
  const kind = truth.length === 1 ? 'line' : 'ball';
  return judged({ id: patch.id, kind, truth }, readPatch(design, patch, [frame], plainMap(FROM_PART, grid)));
}
