import { bench, describe } from 'vitest';
import { gapBetween, insideMargin } from '../../src/geometry/clearance.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { nearPairs } from '../../src/geometry/outline-index.ts';

/** `count` patches on a square grid, each as good as a new object, so that nothing kept from the last round helps. */
function patches(count: number): Outline[] {
  const side = Math.ceil(Math.sqrt(count));
  return Array.from({ length: count }, (_, k): Outline => {
    const [x, y] = [(k % side) * 3, Math.floor(k / side) * 3];
    if (k % 3 === 0) return { shape: 'circle', centre: [x, y], radius: 1.2 };
    if (k % 3 === 1) return { shape: 'rectangle', centre: [x, y], width: 2, height: 2, rotation: k };
    return { shape: 'sector', centre: [x, y], inner: 0.5, outer: 1.4, from: k, to: k + 2 };
  });
}

describe('clearances of many patches', () => {
  for (const count of [500, 5000])
    bench(`${count} patches: near pairs, then exact gaps`, () => {
      const outlines = patches(count);
      for (const [i, j] of nearPairs(outlines, 0.5)) gapBetween(outlines[i]!, outlines[j]!);
    });
  bench('5000 patches: margin on a disc', () => {
    const disc: Outline = { shape: 'circle', centre: [100, 100], radius: 400 };
    for (const outline of patches(5000)) insideMargin(disc, outline);
  });
});
