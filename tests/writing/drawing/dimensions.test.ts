/** The overall dimensions of the substrate: what they say, where they stand, and that the room kept free of captions holds them. mm. */
import makerjs from 'makerjs';
import { describe, expect, test } from 'vitest';
import type { Outline } from '../../../src/geometry/outline.ts';
import { dimensionBoxes, substrateDimensions } from '../../../src/writing/drawing/dimensions.ts';
import { type Box, type Item, isText } from '../../../src/writing/drawing/drawing.ts';
import { textBox } from '../../../src/writing/drawing/lettering.ts';

const TEXT = 2.5;
const BEYOND = { left: 7, bottom: 4 };

/** All that a model draws. */
function extentOf(item: Item): Box {
  if (isText(item)) return textBox(item);
  const { low, high } = makerjs.measure.modelExtents(item)!;
  return { left: low[0], bottom: low[1], right: high[0], top: high[1] };
}

describe.each<[string, Outline, Box, readonly string[]]>([
  [
    'a disc off the middle',
    { shape: 'circle', centre: [10, 20], radius: 75 },
    { left: -65, bottom: -55, right: 85, top: 95 },
    ['Ø150'],
  ],
  [
    'a rectangle',
    { shape: 'rectangle', centre: [0, 5], width: 120.5, height: 80, rotation: 0 },
    { left: -60.25, bottom: -35, right: 60.25, top: 45 },
    ['120.5', '80'],
  ],
  [
    'a glass narrower than its dimension',
    { shape: 'rectangle', centre: [3, 2], width: 6, height: 9, rotation: 0 },
    { left: 0, bottom: -2.5, right: 6, top: 6.5 },
    ['6', '9'],
  ],
])('%s', (_, outline, box, said) => {
  const items = substrateDimensions(outline, box, TEXT, BEYOND);
  const texts = items.filter(isText);
  const [below, beside] = dimensionBoxes(outline, box, TEXT, BEYOND);

  test('says its width, and its height unless it is round', () => {
    expect(texts.map(({ text }) => text)).toEqual(said);
  });

  test('the width stands in the middle below it, the height upright at its left, beyond the ordinates', () => {
    const [width, height] = texts.map((text) => textBox(text));
    expect((width.left + width.right) / 2).toBeCloseTo((box.left + box.right) / 2, 9);
    expect(width.top).toBeLessThan(box.bottom - BEYOND.bottom);
    if (height === undefined) return expect(beside).toBeUndefined();
    expect((height.bottom + height.top) / 2).toBeCloseTo((box.bottom + box.top) / 2, 9);
    expect(height.right).toBeLessThan(box.left - BEYOND.left);
    expect(height.top - height.bottom).toBeGreaterThan(height.right - height.left - 2 * TEXT);
  });

  test('the room kept free holds their lines and texts on the sides away from the view', () => {
    for (const item of items) {
      const drawn = extentOf(item);
      const isBeside = beside !== undefined && drawn.right < box.left;
      const room = isBeside ? beside : below;
      expect(room.bottom).toBeLessThanOrEqual(drawn.bottom);
      if (isBeside) expect(room.left).toBeLessThanOrEqual(drawn.left);
      if (isBeside) continue;
      // The lines that lead down from a rectangle's left side start beside its own corner.
      if (isText(item)) expect(room.left).toBeLessThanOrEqual(drawn.left);
      expect(room.right).toBeGreaterThanOrEqual(drawn.right);
    }
  });

  test('that room stands clear of the view and of the ordinates', () => {
    expect(below.top).toBeLessThan(box.bottom - BEYOND.bottom);
    expect(below.bottom).toBeLessThan(below.top);
    expect([below.left < box.left, below.right > box.right]).toEqual([true, true]);
    if (beside === undefined) return;
    expect(beside.right).toBeLessThan(box.left - BEYOND.left);
    expect([beside.bottom, beside.top]).toEqual([box.bottom, box.top]);
  });
});
