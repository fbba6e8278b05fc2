/**
 * Whole frames of a camera: what stands where, told by the outlines' own equations in pixels (no code of src/), in all orientations; and the
 * same light as in the picture of the whole aperture, which rays check (fringe-picture.test.ts), though it is worked out in bands.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { designScenario } from '../../src/design/design-scenario.ts';
import { aperturePicture } from '../../src/metrology/camera/fringe-picture.ts';
import { type FrameWishes, wholeFrame } from '../../src/metrology/camera/whole-frame.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';

function designOf(name: string, change = (text: string): string => text): Design {
  const { scenario } = readScenario(change(readFileSync(`examples/${name}.yaml`, 'utf8')), name);
  const result = designScenario(scenario!);
  if ('findings' in result) throw new Error(name);
  return result.design;
}
const withPixels = (count: number) => (text: string) =>
  text
    .replace(/\n {2}pixelsAcrossBeam: .*/, '')
    .replace('interferometer:', `interferometer:\n  pixelsAcrossBeam: ${count}`);
const PIXELS = 300;
/** Three circles; one off the axis, so that each of the eight orientations shows them elsewhere. */
const balls = designOf('diverging-balls', (text) => withPixels(PIXELS)(text).replace('[0, 59]', '[14, 55]'));
const frame = (wishes: Partial<FrameWishes> = {}, design = balls) =>
  wholeFrame(design, { orientation: PLAIN_ORIENTATION, ...wishes });

/** Right and down in the picture of x and y on the pattern, as the README states each word of an orientation. */
const SEEN = [
  ['seen from the interferometer', {}, (x: number, y: number) => [-x, -y]],
  ['seen from the part', { view: 'part' }, (x: number, y: number) => [x, -y]],
  ['mirrored', { mirrored: true }, (x: number, y: number) => [x, -y]],
  ['a quarter turn clockwise: up becomes right', { turned: 90 }, (x: number, y: number) => [y, -x]],
  ['a half turn', { turned: 180 }, (x: number, y: number) => [x, y]],
  ['three quarters', { turned: 270 }, (x: number, y: number) => [-y, x]],
  ['mirrored, then a quarter', { mirrored: true, turned: 90 }, (x: number, y: number) => [y, x]],
  ['mirrored, then three', { mirrored: true, turned: 270 }, (x: number, y: number) => [-y, -x]],
] as const;

test.each(SEEN)('%s: light where the patches are, none elsewhere', (_, words, seen) => {
  const { width, height, grey } = frame({ orientation: { ...PLAIN_ORIENTATION, ...words } });
  expect([width, height]).toEqual([PIXELS, PIXELS]);
  const perMm = PIXELS / balls.beam.cameraDiameter;
  const circles = balls.patches.map(({ centre, outline }) => {
    if (outline.shape !== 'circle') throw new Error('a circle is expected');
    const [right, down] = seen(centre[0] - balls.beam.centre[0], centre[1] - balls.beam.centre[1]);
    return {
      column: (PIXELS - 1) / 2 + right! * perMm,
      row: (PIXELS - 1) / 2 + down! * perMm,
      radius: outline.radius * perMm,
    };
  });
  let [dark, lit, inside] = [0, 0, 0];
  for (let k = 0; k < grey.length; k++) {
    const distance = Math.min(
      ...circles.map(
        (one) => Math.hypot((k % width) - one.column, Math.floor(k / width) - one.row) - one.radius,
      ),
    );
    if (distance > 1 && grey[k]! > 0) dark++;
    if (distance < -1) inside++;
    if (distance < -1 && grey[k]! > 0) lit++;
  }
  expect(dark).toBe(0);
  expect(inside).toBeGreaterThan(500);
  expect(lit / inside).toBeGreaterThan(0.98);
});

test('the light is that of the picture of the whole aperture, whatever bands it is worked out in', () => {
  // Large enough for the null to take several bands.
  const size = 700;
  const design = designOf('off-axis-asphere', withPixels(size));
  const displacements = { part: { translation: [0.005, 0, 0], rotation: [0, 0, 0] } } as const;
  const whole = frame({ displacements }, design).grey;
  const picture = aperturePicture(design, {
    size,
    orientation: PLAIN_ORIENTATION,
    displacements,
    camera: {},
  }).grey;
  let compared = 0;
  let apart = 0;
  for (let k = 0; k < whole.length; k++) {
    // Where the picture has its drawn outlines, the frame has none.
    if (whole[k] === 0) continue;
    compared++;
    if (Math.abs(whole[k]! - picture[k]!) > 1) apart++;
  }
  expect(compared).toBeGreaterThan(30_000);
  // Pixels of the edges, where a drawn outline may lie.
  expect(apart / compared).toBeLessThan(0.005);
});

test('noise is of the size asked for, its own in each frame, and the same each time', () => {
  const [plain, one, same, other] = [
    {},
    { noise: 0.03, seed: 'a' },
    { noise: 0.03, seed: 'a' },
    { noise: 0.03, seed: 'b' },
  ].map((wishes) => frame(wishes).grey);
  expect(one).toEqual(same);
  expect(one).not.toEqual(other);
  const differences = [...plain!].flatMap((grey, k) =>
    grey > 64 && grey < 192 ? [(one![k]! - grey) / 255] : [],
  );
  const rms = Math.hypot(...differences) / Math.sqrt(differences.length);
  expect(differences.length).toBeGreaterThan(200);
  // A rounding to 8 bits adds 0.0011 in squares.
  expect(rms).toBeCloseTo(0.03, 2);
  expect(Math.abs(rms - 0.03)).toBeLessThan((4 * 0.03) / Math.sqrt(2 * differences.length));
});
