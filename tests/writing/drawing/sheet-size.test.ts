/** The sheet is as small as its lettering allows: what a bench commonly has on a blank of 150 mm prints at 1:1 on A3. */
import { expect, it } from 'vitest';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { drawnDesign, ringOfPatches } from './drawn-designs.ts';
import { LAYER_NAMES, textsOn } from './drawn-items.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };

it.each([3, 6, 9])('%d patches with ordinates on all sides stand on A3 in lettering of 2.5 mm', (count) => {
  const drawing = layoutModel(drawnDesign({ patches: ringOfPatches(count, 10, [60]) }), CONTEXT);
  expect(drawing.sheetName).toBe('A3');
  const heights = new Set(
    textsOn(drawing, ...LAYER_NAMES.filter((name) => name !== 'GRID')).map(({ height }) => height),
  );
  expect([...heights]).toEqual([2.5]);
});
