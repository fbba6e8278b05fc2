/**
 * Whole frames of balls and line foci by scalar diffraction, 2 % of noise, references off by up to a fringe and a half a sense, Fresnel numbers from 5
 * to 21: found and read as `read` does. What is stated covers what waves do to a fit by rays, and a ball's rings are no power. Fringes.
 */
import { expect, it } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { add, scale, type Vec3 } from '../../../src/geometry/vector.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { exampleOf } from './scene.ts';
import { flat } from './support/judged.ts';
import { goodOf } from './support/read-taken.ts';
import { readWhole } from './support/whole-frames.ts';

const MOST = 1.5;
const FAR = 4;

it.each([
  ['diverging-balls', 400, 16, 100],
  ['diverging-balls', 700, 8, 50],
  ['infrared-collimated', 400, 16, 100],
  ['infrared-collimated', 700, 8, 50],
] as const)(
  'of %s at %d pixels, %d frames: 95 of 100 within twice what is stated',
  (example, pixels, frames, fewest) => {
    const design = exampleOf(example, pixels);
    const random = randomFrom(example + pixels);
    const all = Array.from({ length: frames }, (_, k) => {
      const references = new Map<string, Vec3>();
      for (const patch of design.patches) {
        if (references.has(patch.reference.id)) continue;
        const move = sensesOf(design, patch).reduce<Vec3>(
          (sum, { direction, fringesPerMm }) =>
            add(sum, scale(direction, (MOST * (2 * random.uniform() - 1)) / fringesPerMm)),
          [0, 0, 0],
        );
        references.set(patch.reference.id, move);
      }
      return readWhole(design, { references, seed: `${k}`, by: 'waves' });
    }).flat();
    const good = goodOf(all);
    const over = flat(good, 'over').map(Math.abs);
    expect(over.length).toBeGreaterThan(fewest);
    expect(over.filter((each) => each < 2).length).toBeGreaterThan(0.95 * over.length);
    expect(over.filter((each) => each > FAR)).toEqual([]);
    expect(good.filter(({ isReversed }) => isReversed)).toEqual([]);
  },
);
