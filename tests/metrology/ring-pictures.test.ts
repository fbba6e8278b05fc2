/**
 * Pictures of rings against rays traced one by one to where hologram and part were put: every pixel's grey, whichever side of the glass the
 * pattern is on; and that they stand in the picture of the whole aperture. Grey (1 + cos 2πW)/2, W but for its piston.
 */
import { expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import {
  aperturePicture,
  expectedVisibility,
  type GreyPicture,
  patchPicture,
} from '../../src/metrology/camera/fringe-picture.ts';
import type { Displacements } from '../../src/metrology/camera/fringe-picture-displacements.ts';
import { apertureWindow, patchWindow, xOf, yOf } from '../../src/metrology/camera/fringe-picture-window.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { pictureSet } from '../../src/writing/picture/picture-set.ts';
import { type Motions, type RingBench, ringWaves } from '../independent/ring-bench.ts';
import { patchOf } from './support/full-bench.ts';
import { RINGS, ringBench, ringDesign } from './support/ring-scene.ts';

const PART = { ...PLAIN_ORIENTATION, view: 'part' } as const;
const DESIGNS = { before: ringDesign('before'), after: ringDesign('after') };

/** A move and one turn: of a single one rotation vector and angles are the same. */
const CASES: readonly (readonly [string, string, Motions])[] = [
  ['back', 'hologram turned', { hologram: [0, 0, 0, 0, 9e-6, 0] }],
  ['back', 'hologram moved', { hologram: [1e-3, -2e-3, 0.4, 0, 0, 0] }],
  ['sphere', 'part moved', { part: [5e-3, 3e-3, -0.5, 0, 0, 0] }],
  ['sphere', 'part turned', { part: [0, 0, 0, 2e-5, 0, 0] }],
  ['sphere', 'hologram moved', { hologram: [3e-3, 0, 0, 0, 0, 0] }],
  ['plane', 'part turned', { part: [0, 0, 0.1, 0, -7e-6, 0] }],
  ['plane', 'hologram and part', { hologram: [2e-3, 0, 0, 0, 4e-6, 0], part: [0, 0, 0, 5e-6, 0, 0] }],
];

const motion = ([x, y, z, rx, ry, rz]: readonly number[]) =>
  ({ translation: [x!, y!, z!], rotation: [rx!, ry!, rz!] }) as const;
const displaced = ({ hologram, part }: Motions): Displacements => ({
  ...(hologram === undefined ? {} : { hologram: motion(hologram) }),
  ...(part === undefined ? {} : { part: motion(part) }),
});

/** Of grey levels: rounding, and a ray's hundredth of a fringe. */
const GREYS = 4;
const SIZE = 200;

function worstGrey(design: Design, id: string, picture: GreyPicture, bench: RingBench, motions: Motions) {
  const waves = ringWaves(bench, motions);
  const [inner, outer] = RINGS[id as keyof typeof RINGS];
  const window = patchWindow(patchOf(design, id), SIZE);
  const seen: { readonly grey: number; readonly waves: number }[] = [];
  for (let row = 0; row < SIZE; row += 9)
    for (let column = 0; column < SIZE; column += 2) {
      const [x, y] = [xOf(window, column), yOf(window, row)];
      const r = Math.hypot(x, y);
      if (r < inner + 0.2 || r > outer - 0.2) continue;
      seen.push({ grey: picture.grey[row * SIZE + column]!, waves: waves(x, y) });
    }
  // A picture has no piston: of all of them the one that fits best.
  const worstWith = (piston: number): number =>
    Math.max(
      ...seen.map(({ grey, waves: w }) =>
        Math.abs(grey - 127.5 * (1 + Math.cos(2 * Math.PI * (w - piston)))),
      ),
    );
  const worst = Math.min(...Array.from({ length: 400 }, (_, k) => worstWith(k / 400)));
  const greys = seen.map(({ grey }) => grey);
  return { worst, count: seen.length, range: Math.max(...greys) - Math.min(...greys) };
}

test.each((['before', 'after'] as const).flatMap((side) => CASES.map((each) => [side, ...each] as const)))(
  'glass %s the pattern, %s, %s: each pixel is what a ray to there sees',
  (side, id, _, motions) => {
    const design = DESIGNS[side];
    const wishes = { size: SIZE, orientation: PART, displacements: displaced(motions) } as const;
    const picture = patchPicture(design, patchOf(design, id), wishes)!;
    const { worst, count, range } = worstGrey(design, id, picture, ringBench(id, side), motions);
    expect(count).toBeGreaterThan(50);
    expect(worst).toBeLessThan(GREYS);
    // More than half a fringe is there to be seen.
    expect(range).toBeGreaterThan(200);
  },
);

test('rings stand in the whole aperture, and with --at show what alone they show', () => {
  const design = DESIGNS.before;
  const displacements = displaced({ hologram: [0, 0, 0, 0, 9e-6, 0] });
  const size = 400;
  const whole = aperturePicture(design, { size, orientation: PLAIN_ORIENTATION, displacements });
  const window = apertureWindow(design, size);
  const waves = ringWaves(ringBench('back', 'before'), { hologram: [0, 0, 0, 0, 9e-6, 0] });
  // From the interferometer x runs left.
  const greyAt = (x: number, y: number): number => {
    const column = Math.round((size - 1) / 2 - (x - window.centre[0]) / window.pitch);
    const row = Math.round((size - 1) / 2 - (y - window.centre[1]) / window.pitch);
    return whole.grey[row * size + column]!;
  };
  for (const angle of [0.4, 1.2, 2.2, 3.6, 5]) {
    const [x, y] = [65.5 * Math.cos(angle), 65.5 * Math.sin(angle)];
    const expected = 127.5 * (1 + Math.cos(2 * Math.PI * (waves(x, y) - waves(0, 0))));
    // Half a pixel away the fringe has moved.
    expect(Math.abs(greyAt(x, y) - expected)).toBeLessThan(25);
  }
});

test('a ring’s strip goes from eight fringes to none, with each further count one fringe off', () => {
  const strip = pictureSet(DESIGNS.before, { size: 32, orientation: PART })
    .filter(({ patch }) => patch === 'back')
    .map(({ state, fringes, moved }) => [state, fringes, moved?.of]);
  expect(strip).toEqual([
    ['far off', [8, 0, 0], 'hologram'],
    ['coarse', [3, 0, 0], 'hologram'],
    ['one fringe', [1, 0, 0], 'hologram'],
    ['aligned', [0, 0, 0], 'hologram'],
    ['second direction', [0, 1, 0], 'hologram'],
    ['along the light', [0, 0, 1], 'hologram'],
  ]);
});

test('a ring’s light is seen at some contrast', () => {
  for (const { id } of DESIGNS.after.patches) {
    const visibility = expectedVisibility(DESIGNS.after, patchOf(DESIGNS.after, id));
    expect(visibility, id).toBeGreaterThan(0.1);
    expect(visibility, id).toBeLessThanOrEqual(1);
  }
});
