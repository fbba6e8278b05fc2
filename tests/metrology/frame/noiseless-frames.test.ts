/**
 * Frames without noise, traced by independent code: what is left is how well the hologram is found, a picture's whole grey levels and the model
 * of a patch, and the uncertainty that is stated covers it. Fringes.
 */
import { expect, it } from 'vitest';
import { deviates } from '../../independent/random.ts';
import { flat, mean } from './support/judged.ts';
import { goodOf, readTaken } from './support/read-taken.ts';
import { lineScene } from './support/scenes.ts';
import { randomOff, taker } from './support/taken.ts';

/** Errors over stated uncertainties: root mean square of some twenty, of which many go together, and the largest. */
const USUAL = 1.5;
const MOST = 4;
/** And no reading is called so unsure that this would be no news. */
const UNSURE = 0.02;

it.each([0, 0.05])('with distortion up to %s are read within their uncertainties', (distortion) => {
  const random = deviates(31);
  const all = [0, 1].flatMap(() => {
    const scene = lineScene(random, 12);
    const taken = taker(scene)(random, randomOff(scene.design, random), {
      ...{ pixels: 600, noise: 0, distortion },
    });
    return readTaken(scene.design, taken) ?? [];
  });
  const good = goodOf(all);
  expect(good.length).toBeGreaterThan(0.8 * 24);
  const over = flat(good, 'over').map(Math.abs);
  expect(Math.sqrt(mean(over.map((each) => each * each)))).toBeLessThan(USUAL);
  expect(Math.max(...over)).toBeLessThan(MOST);
  for (const { reading } of good) expect(reading.values[0]!.uncertainty).toBeLessThan(UNSURE);
});
