/** Two covered patches settle the camera's orientation, or it is said which ones they leave. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { orientationsSeen, seenAt } from '../../src/metrology/camera/orientation-from-patches.ts';
import { ORIENTATIONS } from '../../src/scenario/camera-orientation.ts';
import { designOf } from '../writing/sheet/made-sheets.ts';

const design = designOf(readFileSync('examples/steer-mirror-on-stage.yaml', 'utf8'));
const [first, , , fourth] = design.patches;

test.each(ORIENTATIONS)(
  'turned $turned, mirrored $mirrored: two patches off one line through the centre settle it',
  (actual) => {
    const seen = [first!, fourth!].map((patch) => ({ patch, at: seenAt(design, patch.centre, actual) }));
    expect(orientationsSeen(design, seen)).toEqual([actual]);
  },
);

test('where patches appear: the interferometer sees x to the left, a turn is clockwise', () => {
  const { centre } = design.beam;
  const place = [centre[0] + 3, centre[1] + 1] as const;
  expect(seenAt(design, place, { view: 'part', turned: 0, mirrored: false })).toEqual([3, 1]);
  expect(seenAt(design, place, { view: 'interferometer', turned: 0, mirrored: false })).toEqual([-3, 1]);
  // What stood 3 left and 1 up stands 1 right and 3 up after a quarter turn clockwise.
  expect(seenAt(design, place, { view: 'interferometer', turned: 90, mirrored: false })).toEqual([1, 3]);
});

test('a patch on the y axis leaves two orientations, a place without a patch leaves none', () => {
  expect(Math.abs(first!.centre[0] - design.beam.centre[0])).toBeLessThan(1e-9);
  const at = seenAt(design, first!.centre, ORIENTATIONS[0]!);
  expect(orientationsSeen(design, [{ patch: first!, at }])).toHaveLength(2);
  expect(orientationsSeen(design, [{ patch: first!, at: [0, 0] }])).toEqual([]);
});
