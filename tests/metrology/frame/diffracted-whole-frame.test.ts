/**
 * Whole frames that the program makes by scalar diffraction, as `fringes --camera --diffraction` writes them, are read as the traced displacement
 * says: here waves take less than 0.02 fringe from a tilt, or add it, which the standard uncertainties stated cover.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { designScenario } from '../../../src/design/design-scenario.ts';
import type { Vec3 } from '../../../src/geometry/vector.ts';
import { wholeFrame } from '../../../src/metrology/camera/whole-frame.ts';
import { readFrames } from '../../../src/metrology/frame/read-frames.ts';
import { locateHologram } from '../../../src/metrology/location/locate.ts';
import { tracedFringes } from '../../../src/metrology/sensing/traced-readings.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';

/** Fringes. */
const BY_WAVES = 0.02;
/** Standard uncertainties, which count what waves do. */
const FAR = 3;
/** Pixels across the beam: fewer are quicker. */
const SIDE = 400;
const MOVE: Vec3 = [0.02, 0.01, 0];

test('a frame of line foci in waves is read with its signs, to two hundredths of a fringe', () => {
  const text = readFileSync('examples/steer-mirror-on-stage.yaml', 'utf8');
  const { scenario } = readScenario(
    text.replace(/pixelsAcrossBeam: \d+/, `pixelsAcrossBeam: ${SIDE}`),
    'small.yaml',
  );
  const result = designScenario(scenario!);
  if ('findings' in result) throw new Error('example');
  const { design } = result;
  const references = new Map([['north', MOVE]]);
  const { width, height, grey } = wholeFrame(design, {
    ...{ orientation: PLAIN_ORIENTATION, displacements: { references } },
    ...{ noise: 0, diffraction: true },
  });
  const values = Float32Array.from(grey, (level) => level / 255);
  const frame: CameraFrame = { width, height, values, holds: 'intensity', levels: 255 };
  const { map } = locateHologram(design, [frame]);
  const { patches } = readFrames(design, [frame], { map: map! });
  expect(patches).toHaveLength(9);
  for (const { patch, values, signKnown, faults } of patches) {
    const move: Vec3 = patch.reference.id === 'north' ? MOVE : [0, 0, 0];
    const error = values[0]!.fringes - tracedFringes(design, patch)!(move)![0]!;
    expect({ id: patch.id, signKnown, faults }).toEqual({ id: patch.id, signKnown: true, faults: [] });
    expect(Math.abs(error), patch.id).toBeLessThan(BY_WAVES);
    expect(Math.abs(error), patch.id).toBeLessThan(FAR * values[0]!.uncertainty);
  }
});
