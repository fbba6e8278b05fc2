/**
 * Balls off toward and from the pattern by up to many fringes of power, without noise: the fringes of the edge come to lie closer than the
 * pixels, and what is left of the picture looks like some other power. It is read right or not at all. Fringes.
 */
import { expect, test } from 'vitest';
import { scale } from '../../../src/geometry/vector.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { exampleOf } from './scene.ts';
import { readByRays } from './support/ray-window.ts';
import { goodOf } from './support/read-taken.ts';

const SIZE = 64;
const POWERS = [-6, -5, -3, -1, 1, 2, 3, 4, 5, 6, 7];
/** Standard uncertainties. */
const FAR = 3;
const design = exampleOf('infrared-collimated');

const readOff = (id: string) => {
  const patch = design.patches.find((one) => one.id === id)!;
  const { direction, fringesPerMm } = sensesOf(design, patch)[2]!;
  return POWERS.map((power) => readByRays(design, patch, scale(direction, power / fringesPerMm), SIZE));
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
