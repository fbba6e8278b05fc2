/**
 * What the sheet says of power on a narrow ring with a tilt bias, against the picture of that move: where fringes are said to close up, more
 * of them are crossed from the inner edge to the outer, and where they are said to open out, fewer.
 */
import { expect, test } from 'vitest';
import { patchPicture } from '../../../src/metrology/camera/fringe-picture.ts';
import { ringStates } from '../../../src/metrology/rings/ring-strip.ts';
import { ORIENTATIONS } from '../../../src/scenario/camera-orientation.ts';
import { ringRows } from '../../../src/writing/sheet/ring-section.ts';
import { jobText } from './jobs.ts';
import { designOf } from './made-sheets.ts';
import '../../machine/patience.ts';

const SIZE = 1200;
/** Right and up of an hour of the clock. */
const at = (hour: string): readonly [number, number] => {
  const angle = (Number(/\d+/.exec(hour)![0]) + (hour.startsWith('half') ? 0.5 : 0)) * (Math.PI / 6);
  return [Math.sin(angle), Math.cos(angle)];
};
const CLOCK = '(\\d+ o’clock|half past \\d+)';
const WORDS = new RegExp(`close up on the side toward ${CLOCK} and open out on the side toward ${CLOCK}`);

test.each([
  ['along x', 0],
  ['aslant', 30],
] as const)('a bias %s', (_, degrees) => {
  const bias = `bias: {shape: tilt, fringes: 20, direction: ${degrees} deg}`;
  const design = designOf(jobText('ring-only').replace('focus: return,', `focus: return, ${bias},`));
  const patch = design.patches.find(({ reference }) => reference.kind === 'return')!;
  expect(patch.bias?.fringes).toBe(20);
  const { outline } = patch;
  if (outline.shape !== 'ring') throw new Error(outline.shape);
  const power = ringStates(design, patch).at(-1)!;
  expect(power.move.count).toBe(2);
  for (const orientation of [ORIENTATIONS[0]!, ORIENTATIONS[5]!]) {
    const rows = ringRows(design, patch, null, orientation);
    const words = JSON.stringify(rows.find(([head]) => head === 'Effect of moves'));
    expect(words).not.toContain('bow');
    const [, closing, opening] = WORDS.exec(words)!;
    const { grey } = patchPicture(design, patch, {
      ...{ size: SIZE, orientation, displacements: power.displacements },
    })!;
    const crossed = (hour: string): number => {
      const [right, up] = at(hour);
      let [sum, last] = [0, undefined as number | undefined];
      for (let k = 0; k <= 200; k++) {
        const radius = outline.inner + (outline.outer - outline.inner) * (0.03 + (0.94 * k) / 200);
        const reach = (radius / outline.outer / 1.12) * (SIZE / 2);
        const pixel = Math.round(SIZE / 2 - up * reach) * SIZE + Math.round(SIZE / 2 + right * reach);
        const level = grey[pixel]!;
        sum += Math.abs(level - (last ?? level));
        last = level;
      }
      // A fringe goes from dark to bright and back.
      return sum / 510;
    };
    expect(crossed(closing!)).toBeGreaterThan(crossed(opening!) + 0.4);
  }
});
