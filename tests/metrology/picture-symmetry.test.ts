/**
 * At the design position and without glass a roofed patch's picture looks the same turned by half a turn, to its very edge: nothing is
 * off by a pixel. (Glass after the pattern takes the ray through the middle past the apex, and the halves differ.)
 */
import { expect, test } from 'vitest';
import { covers } from '../../src/geometry/contains.ts';
import { patchPicture } from '../../src/metrology/camera/fringe-picture.ts';
import { patchWindow, xOf, yOf } from '../../src/metrology/camera/fringe-picture-window.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { designFrom, linePatch } from './support/design-from.ts';

/** Grey levels: what rounds to one side rounds back to the other, and ridge rays of both halves meet in the middle. */
const SAME = 8;
const SIZE = 48;
const PART = { ...PLAIN_ORIENTATION, view: 'part' } as const;

test.each([
  [0, [50, 0]],
  [90, [0, 50]],
] as const)('lines at %d°', (angle, centre) => {
  const design = designFrom({
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [40, 150, 900] }],
    patches: [{ ...linePatch('p', 'r', centre, angle), bias: { shape: 'roof', fringes: 2 } }],
  });
  const [patch] = design.patches;
  const { grey } = patchPicture(design, patch, { size: SIZE, orientation: PART })!;
  const window = patchWindow(patch, SIZE);
  const inside = (at: number): boolean =>
    covers(patch.outline, [xOf(window, at % SIZE), yOf(window, Math.floor(at / SIZE))]);
  const last = SIZE * SIZE - 1;
  const seen = [...grey.keys()].filter(inside);
  expect(seen.length).toBeGreaterThan(SIZE * SIZE * 0.4);
  // Its fringes are there to be seen.
  const greys = seen.map((at) => grey[at]);
  expect(Math.max(...greys) - Math.min(...greys)).toBeGreaterThan(200);
  const off = seen.filter((at) => Math.abs(grey[at] - grey[last - at]) > SAME);
  expect(off.map((at) => [at % SIZE, Math.floor(at / SIZE)])).toEqual([]);
});
