/** The hologram is found in phase maps with noise, or nothing, beside the patches, and by how far pixels swing over frames in phase steps. */
import { describe, expect, test } from 'vitest';
import { locateHologram } from '../../../src/metrology/location/locate.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import { deviates } from '../../independent/random.ts';
import { exampleDesign } from '../support/bench.ts';
import { errorsOf, seenFrame } from '../support/seen-frame.ts';

const DESIGN = exampleDesign('converging-retroreflectors');
const STILL = { vignetting: 0, uneven: 0, dust: 0, noise: 0, shot: 0, seed: 1, surround: 0 };
/** Where the patches are: lit alike, without fringes. */
const SEEN = seenFrame(DESIGN, 8, { dark: 1, faults: STILL, fringes: 0 });
const { width, height } = SEEN.frame;
const isLit = (at: number): boolean => SEEN.frame.values[at]! > 0.1;
/** Waves, as of a tilted and bent return. */
const wavesAt = (at: number): number => {
  const [x, y] = [(at % width) / width, Math.floor(at / width) / height];
  return 30 * x - 22 * y + 15 * x * x;
};
const { uniform, normal } = deviates(9);
const pixels = (valueAt: (at: number) => number): Float32Array =>
  Float32Array.from({ length: width * height }, (_, at) => valueAt(at));
const wrapped = (waves: number): number => waves - Math.round(waves);

/** Pixels: half of one is what a patch's edge is kept clear of. */
const MOST_OFF = 0.5;
const foundIn = (frames: readonly CameraFrame[]): number => {
  const { map, faults } = locateHologram(DESIGN, frames, { orientation: SEEN.orientation });
  expect(faults).toEqual([]);
  return errorsOf(DESIGN, SEEN.screen, map!).most;
};

describe('a phase map', () => {
  const inside = (at: number): number => wrapped(wavesAt(at) + 0.01 * normal());
  test.each([
    ['nothing', () => Number.NaN],
    ['noise', () => uniform() - 0.5],
    ['nothing here and noise there', () => (uniform() < 0.5 ? Number.NaN : uniform() - 0.5)],
  ] as const)('with %s beside the patches', (_, beside) => {
    const values = pixels((at) => (isLit(at) ? inside(at) : beside()));
    expect(foundIn([{ width, height, values, holds: 'phase' }])).toBeLessThan(MOST_OFF);
  });
});

test('frames in phase steps whose surround is as bright as the patches', () => {
  const frames = [0, 0.25, 0.5, 0.75].map((step): CameraFrame => {
    const fringes = (at: number): number =>
      isLit(at) ? 0.35 * Math.cos(2 * Math.PI * (wavesAt(at) + step)) : 0;
    const values = pixels((at) => 0.5 + fringes(at) + 0.02 * normal());
    return { width, height, values, holds: 'intensity' };
  });
  expect(foundIn(frames)).toBeLessThan(MOST_OFF);
});
