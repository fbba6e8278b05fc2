/**
 * The map of a patch's period read as its reader would: what a square's shade says in the legend holds in the square's middle, by
 * differences of the phase; the squares fill the patch, y up; the cross stands where the lines are closest. mm, periods µm.
 */
import { describe, expect, test } from 'vitest';
import { periodRange } from '../../src/design/period-range.ts';
import { contains } from '../../src/geometry/contains.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { periodMap } from '../../src/writing/coefficients/period-map.ts';
import { makePatch } from '../design/support/make-patch.ts';

const STEP = 1e-4;
/** Four digits in the legend. */
const ROUNDING = 2e-3;
/** Sides and places of a row of squares are printed to four digits of the whole picture. */
const PRINTED = 0.05;

const patches = {
  'a wide rectangle off the axes': {
    at: [30, 60, 700],
    centre: [20, 47],
    outline: { shape: 'rectangle', centre: [20, 47], width: 24, height: 9, rotation: 0 },
  },
  'a tall rectangle on the other side': {
    at: [-80, -60, 500],
    centre: [-31, -12],
    outline: { shape: 'rectangle', centre: [-31, -12], width: 6, height: 17, rotation: 0 },
  },
  'a disc': { at: [90, 20, 300], centre: [52, 3], outline: { shape: 'circle', centre: [52, 3], radius: 8 } },
} as const satisfies Record<string, { outline: Outline; [key: string]: unknown }>;

describe.each(Object.entries(patches))('%s', (_, recipe) => {
  const patch = makePatch({ ...recipe, kind: 'ball', diameter: 12.7 });
  const { text } = periodMap(patch, periodRange(patch), 'map');
  const legend = [
    ...text.matchAll(/background:(#[0-9a-f]{6})"><\/span><\/td><td class="n">([\d.]+) to ([\d.]+)</g),
  ].map(([, shade, from, to]) => ({ shade, from: Number(from), to: Number(to) }));
  const runs = [...text.matchAll(/<path d="([^"]*)" fill="(#[0-9a-f]{6})"\/>/g)].flatMap(([, path, shade]) =>
    [...path.matchAll(/M(\S+) (\S+)h(\S+)v(\S+)h-\S+z/g)].map(([, ...numbers]) => {
      const [left, top, width, side] = numbers.map(Number);
      return { shade, left, top, width, side };
    }),
  );
  const squares = runs.flatMap(({ shade, left, top, width, side }) =>
    Array.from({ length: Math.round(width / side) }, (_, k) => {
      // y runs down in the picture and up on the pattern.
      return { shade, x: left + (k + 0.5) * side, y: -(top + side / 2), side };
    }),
  );
  const period = (x: number, y: number): number => {
    const phase = (px: number, py: number): number => patch.phase.phase(px, py);
    const gx = (phase(x + STEP, y) - phase(x - STEP, y)) / (2 * STEP);
    const gy = (phase(x, y + STEP) - phase(x, y - STEP)) / (2 * STEP);
    return 1000 / Math.hypot(gx, gy);
  };

  test('each square’s period is what the legend says of its shade', () => {
    expect(legend).toHaveLength(8);
    const off = squares.filter(({ shade, x, y }) => {
      const { from, to } = legend.find((row) => row.shade === shade)!;
      const here = period(x, y);
      return here < from * (1 - ROUNDING) || here > to * (1 + ROUNDING);
    });
    expect(off).toEqual([]);
    expect(new Set(squares.map(({ shade }) => shade)).size).toBeGreaterThan(4);
  });

  test('the legend runs from the largest period of the patch to the smallest without gaps', () => {
    const { min, max } = periodRange(patch);
    expect(legend[0].to / (max * 1000)).toBeCloseTo(1, 3);
    expect(legend[7].from / (min * 1000)).toBeCloseTo(1, 3);
    legend.slice(1).forEach(({ to }, k) => {
      expect(to).toBe(legend[k].from);
    });
  });

  test('the squares fill the patch once, sixteen along its longer side', () => {
    const { minX, minY, maxX, maxY } = boxOf(recipe.outline);
    const side = Math.max(maxX - minX, maxY - minY) / 16;
    const [columns, rows] = [Math.ceil((maxX - minX) / side - 1e-6), Math.ceil((maxY - minY) / side - 1e-6)];
    const middles = Array.from({ length: columns * rows }, (_, k): [number, number] => [
      minX + ((k % columns) + 0.5) * side,
      minY + (Math.floor(k / columns) + 0.5) * side,
    ]).filter((middle) => contains(patch.outline, middle));
    expect(squares).toHaveLength(middles.length);
    for (const [x, y] of middles) {
      const here = squares.filter((square) => Math.hypot(square.x - x, square.y - y) < PRINTED * side);
      expect(here).toHaveLength(1);
    }
  });

  test('the cross stands where the lines are closest, in the size and with the period that are printed', () => {
    const [, markX, markY, arm] = /<path d="M(\S+) (\S+)l(\S+) \S+m/.exec(text)!.map(Number);
    const at = [markX + arm / 2, -(markY + arm / 2)] as const;
    const closest = Math.min(...squares.map(({ x, y }) => period(x, y)));
    expect(period(...at)).toBeLessThanOrEqual(closest);
    const [, printed, width, height] =
      /Seen from the part side, x right, y up\.<br>Red cross: smallest period, (\S+) µm\.<br>The patch measures (\S+) mm by (\S+) mm overall\./
        .exec(text)!
        .map(Number);
    expect(printed / period(...at)).toBeCloseTo(1, 3);
    const { minX, minY, maxX, maxY } = boxOf(recipe.outline);
    expect([width, height]).toEqual([maxX - minX, maxY - minY]);
  });
});

function boxOf(outline: (typeof patches)[keyof typeof patches]['outline']) {
  const [x, y] = outline.centre;
  const [a, b] =
    outline.shape === 'circle' ? [outline.radius, outline.radius] : [outline.width / 2, outline.height / 2];
  return { minX: x - a, minY: y - b, maxX: x + a, maxY: y + b };
}
