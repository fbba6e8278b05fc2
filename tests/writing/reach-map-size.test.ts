/** The reach map of many references: two dozen are drawn, the rest counted, and nothing is written past the picture's foot. */
import { expect, test } from 'vitest';
import { reachMapSvg } from '../../src/writing/reach/reach-map.ts';
import { designFrom, pointPatch } from '../metrology/support/design-from.ts';

test.each([
  [1, 1, 0],
  [24, 24, 0],
  [25, 24, 1],
  [30, 24, 6],
])('of %i references %i are drawn', (count, drawn, left) => {
  const references = Array.from({ length: count }, (_, k) => ({
    ...{ id: `r${k}`, kind: 'ball', diameter: 12.7 },
    at: [60 * Math.cos(k), 60 * Math.sin(k), 200 + 30 * k],
  }));
  const design = designFrom({ references, patches: [pointPatch('p', 'r0', [45, 20], 4)] });
  for (const draft of [false, true]) {
    const svg = reachMapSvg(design, { draft });
    const height = Number(/<svg [^>]* height="([\d.]+)"/.exec(svg)![1]);
    expect(svg.match(/<text class="strong"[^>]*>r\d+:/g)).toHaveLength(drawn);
    const feet = [...svg.matchAll(/<text [^>]*\by="([\d.]+)"/g)].map(([, y]) => Number(y));
    // A line of text stands at least a descender's depth above the foot, and the foot is near.
    expect(height - Math.max(...feet)).toBeGreaterThan(3);
    expect(height - Math.max(...feet)).toBeLessThan(40);
    expect(/and (\d+) more references/.exec(svg)?.[1]).toBe(left === 0 ? undefined : String(left));
  }
});
