/**
 * Captions as they are read: one on its own patch has no line through it where any quarter of the patch is free, and one at the left of its
 * leader ends at it, in whatever font. mm.
 */
import { describe, expect, it } from 'vitest';
import { holds, runMeetsBox, runOf } from '../../../src/writing/drawing/boxes.ts';
import { captionBox, placeCaptions } from '../../../src/writing/drawing/captions/caption-placing.ts';
import type { Box, Line } from '../../../src/writing/drawing/drawing.ts';
import { isText } from '../../../src/writing/drawing/drawing.ts';
import { roomFor, textBox } from '../../../src/writing/drawing/lettering.ts';
import { writeCurves } from '../../../src/writing/drawing/outline-model.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { DRAWN_DESIGNS, drawnDesign } from './drawn-designs.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };
const HEIGHT = 2.5;
/** A patch of 60 × 60 mm about the origin. */
const PATCH: Box = { left: -30, bottom: -30, right: 30, top: 30 };
const CORNERS = [
  [-30, -30],
  [30, -30],
  [30, 30],
  [-30, 30],
] as const;

/** Of the patch, with room for captions on it alone. */
const placedWith = (text: string, lines: readonly Line[]) =>
  placeCaptions([{ text, short: 'M', patch: [CORNERS] }], HEIGHT, {
    area: PATCH,
    edges: [],
    lines,
    boxes: [],
  })[0]!;
const level = (y: number): Line => [
  [-100, y],
  [100, y],
];

describe('a caption that has no place but on its patch', () => {
  it.each([
    ['below', -15, 'above'],
    ['above', 15, 'below'],
  ] as const)('goes where no line crosses it: a line %s', (_, y, where) => {
    const { text, at, leader } = placedWith('M main', [level(0), level(y)]);
    const box = captionBox(at, roomFor(text, HEIGHT), HEIGHT);
    expect(text).toBe('M main');
    expect(leader).toBeUndefined();
    expect(holds(PATCH, box)).toBe(true);
    for (const line of [level(0), level(y)]) expect(runMeetsBox(runOf(...line), box)).toBe(false);
    expect(box.bottom > 0).toBe(where === 'above');
  });

  it('is its number where the whole name is too long for a quarter', () => {
    expect(placedWith('M a name as long as the patch is wide', [level(0)]).text).toBe('M');
  });
});

describe.each(DRAWN_DESIGNS)('the captions of %s', (_, wish) => {
  const drawing = layoutModel(drawnDesign(wish), CONTEXT);
  const items = drawing.layers.get('CAPTIONS') ?? [];

  it('touch their leaders’ ends whatever the font: the end that the leader comes to is the end that stays', () => {
    let led = 0;
    items.forEach((item, k) => {
      if (isText(item)) return;
      const [[from]] = writeCurves<readonly [number, number][]>(item, {
        line: (a, b) => [[...a] as [number, number], [...b] as [number, number]],
        circle: () => [],
        loop: () => [],
      }) as [[[number, number]]];
      const text = items[k + 1]!;
      if (!isText(text)) throw new Error('a leader without its caption');
      const box = textBox(text);
      const gap = drawing.lettering.text;
      const kept = { left: box.left, centre: (box.left + box.right) / 2, right: box.right }[text.align];
      expect(text.at[0]).toBeCloseTo(kept, 9);
      if (text.align !== 'centre') expect(Math.abs(from[0] - kept)).toBeLessThan(gap);
      else expect(from[0] > box.left && from[0] < box.right).toBe(true);
      led++;
    });
    expect(led).toBeLessThanOrEqual(items.filter(isText).length);
  });
});
