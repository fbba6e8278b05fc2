/** Frames of a bench out of place for the tests of commands that read them. */
import { existsSync, readFileSync } from 'node:fs';
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import type { Displacements } from '../../../src/metrology/camera/fringe-picture-displacements.ts';
import { wholeFrame } from '../../../src/metrology/camera/whole-frame.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import type { Grey } from '../../reading/frames/frame-bytes.ts';
import { example, scenarioFile } from './run.ts';

/** A camera of so many pixels: enough for each patch, and quick. */
export const SIDE = 360;

/** Scenario files by example, while the folder of the test file that asked first is there. */
const files = new Map<string, string>();

function withFewPixels(name: string): string {
  const known = files.get(name);
  if (known !== undefined && existsSync(known)) return known;
  const file = scenarioFile(
    readFileSync(example(name), 'utf8')
      .replace(/\n *pixelsAcrossBeam: .*/, '')
      .replace('interferometer:', `interferometer:\n  pixelsAcrossBeam: ${SIDE}`),
    `${name}.yaml`,
  );
  files.set(name, file);
  return file;
}

/** Its scenario file. */
export const mirror = (): string => withFewPixels('converging-retroreflectors');
export const balls = (): string => withFewPixels('diverging-balls');

export function designOf(file: string): Design {
  const { scenario } = readScenario(readFileSync(file, 'utf8'), file);
  const made = designScenario(scenario!);
  if ('findings' in made) throw new Error(file);
  return made.design;
}

/** Each reference by its own amount, mm: no two patches show the same. */
export const OFF: Displacements = {
  references: new Map([
    ['north', [0.02, -0.01, 0.05]],
    ['west', [-0.015, 0.01, -0.04]],
    ['east', [0.01, 0.025, 0.02]],
  ]),
};

export function greyOf(
  design: Design,
  displacements = OFF,
  orientation: CameraOrientation = PLAIN_ORIENTATION,
): Grey {
  const { width, height, grey } = wholeFrame(design, { orientation, displacements, noise: 0.02 });
  return { width, height, samples: [...grey] };
}
