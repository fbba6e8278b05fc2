/** Drawings of more patches than leaders or a table could serve: every patch still bears its number, on itself if nowhere else. */
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { contains } from '../../../src/geometry/contains.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { boxesMeet } from '../../../src/writing/drawing/boxes.ts';
import { BoxIndex } from '../../../src/writing/drawing/captions/caption-ground.ts';
import { lineWidth } from '../../../src/writing/drawing/drawing.ts';
import { LAYERS } from '../../../src/writing/drawing/layers.ts';
import { drawable, roomFor } from '../../../src/writing/drawing/lettering.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { circle, drawnDesign, patch, square } from './drawn-designs.ts';
import { curvesOn, LAYER_NAMES, textsOn } from './drawn-items.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };

/** A square of n × n patches of `side` mm, a ring and a disc among them. */
function grid(n: number, side: number) {
  const pitch = 1.5 * side;
  return drawnDesign({
    patches: Array.from({ length: n * n }, (_, k) => {
      const centre: Vec2 = [((k % n) - (n - 1) / 2) * pitch, (Math.floor(k / n) - (n - 1) / 2) * pitch];
      const round = circle(side / 2, centre);
      const ring = { shape: 'ring', centre, inner: 0.35 * side, outer: side / 2 } as const;
      const outline = k === n + 1 ? ring : k === n + 2 ? round : square(centre, side);
      return patch(`p${k}`, 'north', outline, centre);
    }),
  });
}

describe.each([
  ['169 of 3 mm', 13, 3],
  ['1,024 of 0.8 mm', 32, 0.8],
])('%s', (_, n, side) => {
  const design = grid(n, side);
  const drawing = layoutModel(design, CONTEXT);
  const captions = textsOn(drawing, 'CAPTIONS');

  it('number each patch once, without leaders', () => {
    expect(captions.map(({ text }) => text)).toEqual(design.patches.map((_, k) => String(k + 1)));
    expect(curvesOn(drawing, 'CAPTIONS')).toEqual([]);
  });

  it('have numbers smaller than the lettering within their own patch only', () => {
    const small = captions.filter(({ height }) => height < drawing.lettering.text);
    expect(small.length).toBeGreaterThan(design.patches.length / 2);
    for (const { text, at, height } of small) {
      const { outline } = design.patches[Number(text) - 1]!;
      for (const corner of [at, [at[0] + roomFor(text, height), at[1] + height] as const])
        expect(contains(outline, corner), text).toBe(true);
    }
  });

  it('say all that they say in texts that a drawing takes whole', () => {
    for (const { text } of textsOn(drawing, ...LAYER_NAMES)) expect(drawable(text)).toBe(text);
  });

  it('have lines that leave them to be seen', () => {
    for (const layer of LAYERS.filter(({ name }) => name === 'PATCHES' || name === 'CENTRE_LINES'))
      expect(lineWidth(layer, drawing)).toBeLessThan(side / 20);
    const frame = LAYERS.find(({ name }) => name === 'FRAME')!;
    expect(lineWidth(frame, drawing)).toBe(2 * drawing.lettering.narrowLine);
  });

  it('have a table as long as a sheet can hold it, and else are told where their places stand', () => {
    const words = textsOn(drawing, 'TITLE_BLOCK').map(({ text }) => text);
    const isListed = n === 13;
    expect(words.includes('REFERENCE')).toBe(isListed);
    expect(words.join(' ').includes('Positions: coefficients.html')).toBe(!isListed);
  });
});

describe('the index of boxes', () => {
  const at = (x: number, y: number, size = 1) => ({
    box: { left: x, right: x + size, bottom: y, top: y + size },
  });

  it('finds whatever a box meets, across cells and at negative places, and what was added later', () => {
    const things = [at(-3.5, -3.5), at(0, 0), at(7.9, 0.2), at(-20, -20, 40)];
    const index = new BoxIndex(4, { left: -100, right: 100, bottom: -100, top: 100 }, things.slice(0, 3));
    index.add(things[3]!);
    const near = (x: number, y: number): number[] => {
      const found = new Set<number>();
      index.someNear(at(x, y).box, (thing) => {
        found.add(things.indexOf(thing));
        return false;
      });
      return [...found].sort();
    };
    expect(near(-3, -3)).toEqual(expect.arrayContaining([0, 3]));
    expect(near(8, 0)).toEqual(expect.arrayContaining([2, 3]));
    expect(near(8, 0)).not.toContain(0);
    expect(near(30, 30)).toEqual([]);
    expect(index.someNear(at(0.5, 0.5).box, (thing) => thing === things[1])).toBe(true);
  });

  it('finds every pair that meets, within its area and beyond it, where one of a thousand kilometres is among them', () => {
    const { uniform } = randomFrom('index');
    const things = Array.from({ length: 60 }, () =>
      at(80 * uniform() - 40, 80 * uniform() - 40, 10 * uniform() ** 3),
    );
    const huge = at(-5e8, -3, 1e9);
    const index = new BoxIndex(4, { left: -10, right: 12, bottom: -9, top: 14 }, [...things, huge]);
    for (const { box } of things)
      for (const other of [...things, huge])
        if (boxesMeet(box, other.box)) expect(index.someNear(box, (thing) => thing === other)).toBe(true);
  });
});
