/**
 * On an ideal frame, flat light and normal noise, the scatter of a tilt comes near to the least that any reading can have, √6 σ/(π b √N)
 * fringes across a square patch for noise σ, amplitude b and N pixels: the Cramér and Rao bound of a frequency whose phase is not known
 * (D. C. Rife and R. R. Boorstyn, IEEE Trans. Inf. Theory 20, 1974, p. 591, of a complex tone; half the information for a real one). It
 * goes by the mean square of the places, D²/12 of a square and D²/16 of a circle, which makes √8 of the √6.
 */
import { describe, expect, it } from 'vitest';
import { readPatch } from '../../../src/metrology/frame/read-patch.ts';
import { placeSeen } from '../../independent/frame-camera.ts';
import { detected, PERFECT } from '../../independent/frame-detector.ts';
import { tracedFrame } from '../../independent/frame-traced.ts';
import { isIn } from '../../independent/outline-points.ts';
import { deviates } from '../../independent/random.ts';
import { flat, judged, mean, scatter } from './support/judged.ts';
import { knownMap } from './support/known-map.ts';
import { ballScene, lineScene } from './support/scenes.ts';
import { randomOff } from './support/taken.ts';
import { tracedBench } from './support/traced-bench.ts';

const DRAWS = 200;
const SIDE = 60;
/** mm. */
const SEEN = 14;
const NOISE = 0.03;
const LEVEL = 0.4;
const VISIBILITY = 0.8;
/** Fringes: of a few, the tilt is not told apart from the light's own slope so well. */
const MOST = 8;
/** Of the standard deviation of so many draws: three of its own. */
const SPREAD = 3 / Math.sqrt(2 * DRAWS);

describe.each([
  ['a line with a roof', lineScene, 0, 6],
  ['a ball with a tilt', ballScene, 0, 8],
  ['a ball without a bias', ballScene, 1, 8],
] as const)('%s', (_, make, which, square) => {
  const random = deviates(12);
  const { design } = make(random, 3);
  const traced = tracedBench(design)(randomOff(design, random, MOST))[which]!;
  const { centre } = design.patches[which]!;
  const camera = {
    ...{ width: SIDE, height: SIDE, turn: { view: 'interferometer', turned: 0, mirrored: false } as const },
    // Of the beam only what is about the patch.
    beam: { centre, diameter: SEEN },
  };
  const light = tracedFrame(camera, [{ ...traced.lit, visibility: VISIBILITY, piston: 0.2 }], {
    ...{ level: LEVEL, surround: 1 },
  });
  const place = placeSeen(camera);
  const pixels = Array.from(light, (_, k) => place(k % SIDE, Math.floor(k / SIDE))).filter((at) =>
    isIn(traced.lit.outline, at),
  );
  const amplitude = LEVEL * VISIBILITY;
  const bound = (Math.sqrt(square) * NOISE) / (Math.PI * amplitude * Math.sqrt(pixels.length));
  const read = Array.from({ length: DRAWS }, (_, seed) => {
    const frame = {
      ...detected(light, camera, { ...PERFECT, noise: NOISE }, seed),
      holds: 'intensity' as const,
    };
    return judged(traced, readPatch(design, design.patches[which]!, [frame], knownMap(camera)));
  });
  const tilts = make === lineScene ? [0] : [0, 1];

  it('is read in each draw', () => {
    expect(read.filter(({ errors }) => tilts.some((k) => errors[k] === undefined))).toEqual([]);
  });

  it.each(tilts)('scatters in tilt %i by no more than twice the least possible', (k) => {
    const errors = read.map((one) => one.errors[k]!);
    expect(scatter(errors)).toBeLessThan(2 * bound);
    // None is better: the bound would be wrong.
    expect(scatter(errors)).toBeGreaterThan((1 - SPREAD) * bound);
    expect(Math.abs(mean(errors))).toBeLessThan(0.01);
  });

  it('states no less than that scatter, and not twice as much', () => {
    const over = flat(read, 'over');
    expect(scatter(over)).toBeGreaterThan(0.5);
    expect(scatter(over)).toBeLessThan(1 + SPREAD);
  });
});
