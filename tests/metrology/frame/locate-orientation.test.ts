/** Which way the camera is turned: told by the outlines where their places tell, never where they do not; what was given is believed. */
import { describe, expect, test } from 'vitest';
import { locateHologram } from '../../../src/metrology/location/locate.ts';
import {
  type CameraOrientation,
  ORIENTATIONS,
  PLAIN_ORIENTATION,
} from '../../../src/scenario/camera-orientation.ts';
import { exampleDesign } from '../support/bench.ts';
import { designFrom, pointPatch } from '../support/design-from.ts';
import { errorsOf, seenFrame } from '../support/seen-frame.ts';

const SIZE = 360;

/** Balls at places of the pattern, mm. */
const balls = (centres: readonly (readonly [number, number])[]) =>
  designFrom({
    references: centres.map(([x, y], k) => ({
      ...{ id: `b${k + 1}`, kind: 'ball', diameter: 12.7, at: [1.2 * x, 1.2 * y, 130] },
    })),
    patches: centres.map((centre, k) => pointPatch(`b${k + 1}`, `b${k + 1}`, centre, 14)),
  });

/** No turn or mirroring takes these to themselves. */
const ASKEW = balls([
  [50, 10],
  [-20, 45],
  [-35, -40],
  [15, -25],
]);
/** A square: all eight show the same. */
const SQUARE = balls([
  [40, 40],
  [-40, 40],
  [-40, -40],
  [40, -40],
]);

const screenOf = ({ turned, mirrored }: CameraOrientation) => ({ turned, mirrored });
const wordsOf = (orientations: readonly CameraOrientation[]): readonly string[] =>
  orientations.map(({ turned, mirrored }) => `${turned}${mirrored ? ' mirrored' : ''}`).sort();

describe('outlines that tell', () => {
  test.each(ORIENTATIONS)('turned $turned, mirrored $mirrored', (orientation) => {
    const { frame, screen } = seenFrame(ASKEW, 11, { size: SIZE, screen: screenOf(orientation) });
    const { map, toldApart, alike } = locateHologram(ASKEW, frame);
    expect({ orientation: map?.orientation, toldApart, alike }).toEqual({
      orientation,
      toldApart: true,
      alike: [],
    });
    expect(errorsOf(ASKEW, screen, map!).most).toBeLessThan(0.5);
  });

  test('what was given is believed, and contradicted by name', () => {
    const seen: CameraOrientation = { ...PLAIN_ORIENTATION, turned: 90 };
    const { frame } = seenFrame(ASKEW, 12, { size: SIZE, screen: screenOf(seen) });
    const found = locateHologram(ASKEW, frame, { orientation: PLAIN_ORIENTATION });
    expect(found.map!.orientation).toEqual(PLAIN_ORIENTATION);
    expect(found.contradicted).toEqual(seen);
    expect(locateHologram(ASKEW, frame, { orientation: seen }).contradicted).toBeUndefined();
    // Seen from the part and mirrored is the same picture in other words.
    const words: CameraOrientation = { view: 'part', mirrored: true, turned: 90 };
    const same = locateHologram(ASKEW, frame, { orientation: words });
    expect(same.contradicted).toBeUndefined();
    expect(same.map!.orientation).toEqual(words);
    expect(same.alike).toEqual([]);
  });
});

describe('outlines that do not tell', () => {
  test('a square of patches: seven others are alike, and what was given is taken', () => {
    const given: CameraOrientation = { ...PLAIN_ORIENTATION, turned: 270, mirrored: true };
    const { frame, screen } = seenFrame(SQUARE, 13, { size: SIZE, screen: screenOf(given) });
    const found = locateHologram(SQUARE, frame, { orientation: given });
    expect(found.toldApart).toBe(false);
    expect(wordsOf(found.alike)).toEqual(wordsOf(ORIENTATIONS.filter((one) => one !== ORIENTATIONS[7])));
    expect(found.contradicted).toBeUndefined();
    expect(errorsOf(SQUARE, screen, found.map!).most).toBeLessThan(0.5);
    // Without a word it is taken for the picture from the interferometer, as everywhere.
    expect(locateHologram(SQUARE, frame).map!.orientation).toEqual(PLAIN_ORIENTATION);
  });

  test('a layout that is the same left and right: the mirrored picture is alike, in each turn of the camera', () => {
    const design = exampleDesign('diverging-balls');
    const mirrored = { 0: '0 mirrored', 90: '90 mirrored', 180: '180 mirrored', 270: '270 mirrored' };
    for (const turned of [0, 90] as const) {
      const { frame } = seenFrame(design, 14, { size: SIZE, screen: { turned, mirrored: false } });
      const given = { ...PLAIN_ORIENTATION, turned };
      const found = locateHologram(design, frame, { orientation: given });
      expect(found.map?.orientation).toEqual(given);
      expect(wordsOf(found.alike)).toEqual([mirrored[turned]]);
    }
  });
});
