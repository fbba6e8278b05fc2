/**
 * Patches whose reference stands so far off that its fringes come near to the pixels of the camera and are finer than they, from 0.1 to 3
 * fringes a pixel, in frames traced by independent code: none is read as what it is not, and those that pixels do not tell are said to be
 * moiré, or washed out where neither fringes nor their alias is left: then one frame cannot tell fine fringes from none, and the words say
 * both. An alias fits a line focus that lies along the pixels as well as its own fringes would: those are a series of their own.
 */
import { describe, expect, it } from 'vitest';
import { unsureWords } from '../../../src/writing/frame/fault-words.ts';
import { deviates } from '../../independent/random.ts';
import type { Judged } from './support/judged.ts';
import { knownMap } from './support/known-map.ts';
import { goodOf, readAt } from './support/read-taken.ts';
import { ballScene, type FrameScene, lineScene } from './support/scenes.ts';
import { randomOff, taker } from './support/taken.ts';

const PIXELS = 300;
const BEAM = 150;
const PATCHES = 12;
/** Fringes of tilt up to which references are off, frame by frame. */
const TILTS = [4, 10, 15, 20, 30, 55];
/** Pixels: how well the hologram is found. */
const FOUND = 0.05;
/** A wrong value: fringes, and standard uncertainties. */
const WRONG = { fringes: 0.1, over: 5 };

type Random = ReturnType<typeof deviates>;
type Close = Judged & { readonly perPixel: number };

/** `moire`: the part of patches with more than 0.6 fringe a pixel that is named so. */
const SERIES: readonly (readonly [string, (random: Random) => FrameScene, { readonly moire: number }])[] = [
  ['line foci as they come', (random) => lineScene(random, PATCHES), { moire: 0.3 }],
  ['line foci along the pixels', (random) => lineScene(random, PATCHES, 90), { moire: 0.6 }],
  ['balls', (random) => ballScene(random, PATCHES), { moire: 0.4 }],
];

function readClose(make: (random: Random) => FrameScene): readonly Close[] {
  const random = deviates(77);
  const scene = make(random);
  const take = taker(scene);
  return TILTS.flatMap((tilt) => {
    const taken = take(random, randomOff(scene.design, random, tilt), {
      ...{ pixels: PIXELS, noise: 0.03, distortion: 0 },
    });
    return readAt(scene.design, taken, knownMap(taken.camera, FOUND), { belowBias: true }).map((one, k) => {
      const { outline } = scene.design.patches[k]!;
      const width =
        outline.shape === 'rectangle' ? outline.width : outline.shape === 'circle' ? 2 * outline.radius : 0;
      return {
        ...one,
        perPixel: Math.hypot(one.truth[0]!, one.truth[1] ?? 0) / ((width * PIXELS) / BEAM),
      };
    });
  });
}

describe.each(SERIES)('%s, with fringes up to finer than the pixels', (_, make, { moire }) => {
  const all = readClose(make);
  const fine = all.filter(({ perPixel }) => perPixel > 0.6);

  it('are never read as other fringes than they show', () => {
    expect(fine.length).toBeGreaterThan(15);
    const wrong = goodOf(all).filter(({ errors, over }) =>
      errors.some((error, k) => Math.abs(error!) > WRONG.fringes && Math.abs(over[k]!) > WRONG.over),
    );
    expect(wrong).toEqual([]);
    expect(goodOf(fine)).toEqual([]);
  });

  it('are still read where the pixels tell', () => {
    const coarse = all.filter(({ perPixel }) => perPixel < 0.2);
    expect(goodOf(coarse).length).toBeGreaterThan(0.95 * coarse.length);
  });

  it('are said to be moiré, or that they may be finer than the pixels, and what to do', () => {
    const said = fine.filter(({ reading }) => {
      const { seen, remedy } = unsureWords(reading);
      return /(closer|finer) than the pixels/.test(`${seen}; ${remedy}`) && /zoom in/.test(remedy);
    });
    // Of some the noise looks like fringes: that other readings fit as well is what is said of them.
    expect(said.length).toBeGreaterThanOrEqual(0.9 * fine.length);
    const named = fine.filter(({ reading }) => reading.faults[0] === 'moire');
    expect(named.length).toBeGreaterThanOrEqual(moire * fine.length);
  });
});
