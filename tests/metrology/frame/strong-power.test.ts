/**
 * Balls off toward and from the pattern by up to many fringes of power, without noise: the fringes of the edge come to lie closer than the
 * pixels, and what is left of the picture looks like some other power. It is read right or not at all. Fringes.
 */
import { expect, test } from 'vitest';
import { scale } from '../../../src/geometry/vector.ts';
import { benchState } from '../../../src/metrology/camera/fringe-picture-displacements.ts';
import { patchPixels, tracedLight } from '../../../src/metrology/camera/fringe-picture-light.ts';
import { returnBranches } from '../../../src/metrology/camera/fringe-picture-return.ts';
import { patchWindow } from '../../../src/metrology/camera/fringe-picture-window.ts';
import { readPatch } from '../../../src/metrology/frame/read-patch.ts';
import { plainMap } from '../../../src/metrology/location/frame-map.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../../src/metrology/sensing/traced-readings.ts';
import { exampleOf } from './scene.ts';
import { judged } from './support/judged.ts';
import { goodOf } from './support/read-taken.ts';

const SIZE = 64;
const LIGHT = { level: 0.5, amplitude: 0.36, dark: 0.05 } as const;
const FROM_PART = { view: 'part', turned: 0, mirrored: false } as const;
const POWERS = [-6, -5, -3, -1, 1, 2, 3, 4, 5, 6, 7];
/** Standard uncertainties. */
const FAR = 3;
const design = exampleOf('infrared-collimated');

const readOff = (id: string) => {
  const patch = design.patches.find((one) => one.id === id)!;
  const { direction, fringesPerMm } = sensesOf(design, patch)[2]!;
  return POWERS.map((power) => {
    const move = scale(direction, power / fringesPerMm);
    const bench = benchState(design, { references: new Map([[patch.reference.id, move]]) });
    const window = patchWindow(patch, SIZE);
    const light = tracedLight(patch, returnBranches(design, patch, bench), patchPixels(patch, window));
    const values = new Float32Array(SIZE * SIZE).fill(LIGHT.dark);
    for (let i = 0; i < values.length; i++) {
      const [re, im] = [light.re[i - light.start] ?? 0, light.im[i - light.start] ?? 0];
      if (Math.hypot(re, im) > 0) values[i] = LIGHT.level + LIGHT.amplitude * Math.cos(Math.atan2(im, re));
    }
    const grid = { centre: window.centre, pitch: window.pitch, columns: SIZE, rows: SIZE };
    const frame = { width: SIZE, height: SIZE, values, holds: 'intensity' } as const;
    const truth = tracedFringes(design, patch)!(move)!;
    return judged({ id, kind: 'ball', truth }, readPatch(design, patch, [frame], plainMap(FROM_PART, grid)));
  });
};

test.each([
  ['upper-sector', 4],
  ['lower-circle', 7],
] as const)(
  'the ball on %s is read within its uncertainty, or said to be too close for the pixels',
  (id, fewest) => {
    const all = readOff(id);
    const good = goodOf(all);
    expect(good.length).toBeGreaterThanOrEqual(fewest);
    for (const { truth, over } of good)
      expect({ truth, over: over.filter((each) => Math.abs(each!) > FAR) }).toEqual({ truth, over: [] });
    for (const { reading } of all.filter((one) => !good.includes(one)))
      expect(['moire', 'no-fringes', 'misfit']).toContain(reading.faults[0]);
  },
);
