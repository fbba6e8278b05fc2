/** One patch in a frame of its own, drawn by the project, with noise; what it shows is known by the exact trace. Fringes. */
import { readFileSync } from 'node:fs';
import { randomFrom } from '../../../src/algebra/random.ts';
import type { Design, DesignedPatch } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { covers } from '../../../src/geometry/contains.ts';
import { add, scale, type Vec3 } from '../../../src/geometry/vector.ts';
import { benchState } from '../../../src/metrology/camera/fringe-picture-displacements.ts';
import { patchPixels, tracedLight } from '../../../src/metrology/camera/fringe-picture-light.ts';
import { returnBranches } from '../../../src/metrology/camera/fringe-picture-return.ts';
import { patchWindow } from '../../../src/metrology/camera/fringe-picture-window.ts';
import { type FrameMap, plainMap } from '../../../src/metrology/location/frame-map.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../../src/metrology/sensing/traced-readings.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import {
  type CameraOrientation,
  PLAIN_ORIENTATION,
  placeOfPixel,
} from '../../../src/scenario/camera-orientation.ts';

/** `pixels`: across the beam, instead of the example's. */
export function exampleOf(name: string, pixels?: number): Design {
  const text = readFileSync(`examples/${name}.yaml`, 'utf8');
  const words =
    pixels === undefined ? text : text.replace(/pixelsAcrossBeam: \d+/, `pixelsAcrossBeam: ${pixels}`);
  const { scenario } = readScenario(words, name);
  const result = designScenario(scenario!);
  if ('findings' in result) throw new Error(name);
  return result.design;
}

interface Wishes {
  readonly seed: string;
  /** Standard deviation of what is off along each sense, fringes. */
  readonly off: number;
  readonly orientation?: CameraOrientation;
  /** Waves. */
  readonly piston?: number;
  readonly holds?: CameraFrame['holds'];
  /** −1: a map's waves are against the path. */
  readonly path?: 1 | -1;
}

export interface Scene {
  readonly frame: CameraFrame;
  readonly map: FrameMap;
  readonly truth: readonly number[];
}

const SIZE = 64;
const LIGHT = { level: 0.5, amplitude: 0.36, noise: 0.03, dark: 0.05 } as const;
/** Of a phase map, waves. */
const PHASE_NOISE = 0.01;

export function sceneOf(design: Design, patch: DesignedPatch, wishes: Wishes): Scene {
  const { seed, off, orientation = PLAIN_ORIENTATION, piston = 0, holds = 'intensity', path = 1 } = wishes;
  const random = randomFrom(seed);
  const move = sensesOf(design, patch).reduce(
    (sum, { direction, fringesPerMm }) => add(sum, scale(direction, (off * random.normal()) / fringesPerMm)),
    [0, 0, 0] as Vec3,
  );
  const bench = benchState(design, { references: new Map([[patch.reference.id, move]]) });
  const window = patchWindow(patch, SIZE);
  const pixels = patchPixels(patch, window);
  const { start, re, im } = tracedLight(patch, returnBranches(design, patch, bench), pixels);
  const grid = { centre: window.centre, pitch: window.pitch, columns: SIZE, rows: SIZE };
  const noise = randomFrom(`${seed} ${piston}`);
  const values = new Float32Array(SIZE * SIZE);
  for (let i = 0; i < values.length; i++) {
    const [x, y] = placeOfPixel(orientation, grid, [i % SIZE, Math.floor(i / SIZE)]);
    // The window shows the pattern from the part, x right and y up.
    const column = Math.round((x - window.centre[0]) / window.pitch + (SIZE - 1) / 2);
    const row = Math.round((SIZE - 1) / 2 - (y - window.centre[1]) / window.pitch);
    // Rows that the patch does not reach have no light.
    const at = row * SIZE + column - start;
    const lit = covers(patch.outline, [x, y]) && Math.hypot(re[at] ?? 0, im[at] ?? 0) > 0;
    const waves = Math.atan2(im[at]!, re[at]!) / (2 * Math.PI) + piston;
    if (holds === 'phase') {
      values[i] = lit ? path * waves + PHASE_NOISE * noise.normal() : Number.NaN;
      continue;
    }
    const light = lit ? LIGHT.level + LIGHT.amplitude * Math.cos(2 * Math.PI * waves) : LIGHT.dark;
    values[i] = Math.round(255 * Math.min(1, Math.max(0, light + LIGHT.noise * noise.normal()))) / 255;
  }
  return {
    frame: { width: SIZE, height: SIZE, values, holds, ...(holds === 'phase' ? {} : { levels: 255 }) },
    map: plainMap(orientation, grid),
    truth: tracedFringes(design, patch)!(move)!,
  };
}
