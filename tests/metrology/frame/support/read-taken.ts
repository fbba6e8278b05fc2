/** Frames read as the program reads them: the hologram found in each, then patch by patch; and what became of all together. */

import { type PatchGiven, readPatch, SURE_QUALITY } from '../../../../src/metrology/frame/read-patch.ts';
import type { FrameMap } from '../../../../src/metrology/location/frame-map.ts';
import { locateHologram } from '../../../../src/metrology/location/locate.ts';
import type { CameraOrientation } from '../../../../src/scenario/camera-orientation.ts';
import { deviates } from '../../../independent/random.ts';
import { flat, type Judged, judged, mean } from './judged.ts';
import type { FrameScene } from './scenes.ts';
import { randomOff, type Spoiled, type Taken, taker } from './taken.ts';

type Random = ReturnType<typeof deviates>;

/** Undefined where the hologram is not found. The orientation is given: a test of its own asks whether the outlines tell it. */
export function readTaken(
  design: FrameScene['design'],
  taken: Taken,
  given: PatchGiven = {},
): readonly Judged[] | undefined {
  const { map } = locateHologram(design, taken.frames, {
    orientation: taken.camera.turn as CameraOrientation,
  });
  return map && readAt(design, taken, map, given);
}

/** With the hologram where it was found. */
export const readAt = (
  design: FrameScene['design'],
  { frames, patches }: Taken,
  map: FrameMap,
  given: PatchGiven = {},
): readonly Judged[] =>
  patches.map((traced, k) => judged(traced, readPatch(design, design.patches[k]!, frames, map, given)));

export interface Series {
  readonly make: (random: Random) => FrameScene;
  readonly scenes: number;
  /** Of each scene. */
  readonly frames: number;
  readonly seed: number;
  /** Of the frame's smaller side. */
  readonly pixels?: readonly [number, number];
  readonly spoil?: (k: number) => Spoiled | undefined;
}

/** Of full scale. */
const NOISE = 0.03;
const DISTORTION = 0.05;

/** Frames of random scenes. Balls with a tilt as a bias are off by less than that, and the reader is told so. */
export function readSeries({ make, scenes, frames, seed, pixels = [400, 650], spoil }: Series) {
  const random = deviates(seed);
  const all: Judged[] = [];
  let notFound = 0;
  for (let s = 0; s < scenes; s++) {
    const scene = make(random);
    const take = taker(scene);
    for (let f = 0; f < frames; f++) {
      const side = Math.round(pixels[0] + (pixels[1] - pixels[0]) * random.uniform());
      const wishes = { pixels: side, noise: NOISE, distortion: DISTORTION };
      const read = readTaken(scene.design, take(random, randomOff(scene.design, random), wishes, spoil), {
        belowBias: true,
      });
      if (read === undefined) notFound++;
      else all.push(...read);
    }
  }
  return { all, notFound };
}

/** Those whose numbers are given as good ones. */
export const goodOf = (all: readonly Judged[]): readonly Judged[] =>
  all.filter(({ reading }) => reading.quality >= SURE_QUALITY && reading.faults.length === 0);

/** Of the good readings of patches of a kind. */
export function summaryOf(all: readonly Judged[], kind: Judged['kind']) {
  const own = all.filter((one) => one.kind === kind);
  const good = goodOf(own);
  const over = flat(good, 'over');
  const biases = [0, 1, 2].flatMap((k) => {
    const errors = good.flatMap(({ errors }) => errors[k] ?? []);
    return errors.length === 0 ? [] : [mean(errors)];
  });
  return {
    patches: own.length,
    read: good.length / own.length,
    withinTwo: over.filter((each) => Math.abs(each) < 2).length / over.length,
    rmsOver: Math.sqrt(mean(over.map((each) => each * each))),
    biases,
    reversed: good.filter(({ isReversed }) => isReversed).length,
    signKnown: good.filter(({ signKnown }) => signKnown).length / good.length,
    beyond: (most: number): number =>
      good.filter((one) => one.over.some((each) => Math.abs(each ?? 0) > most)).length,
  };
}
