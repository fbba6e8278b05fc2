import makerjs from 'makerjs';
import { describe, expect, it } from 'vitest';
import { contains } from '../../../src/geometry/contains.ts';
import { areaOf } from '../../../src/geometry/extent.ts';
import { boundaryPoints } from '../../../src/geometry/sampling.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { type Box, type Curves, isText } from '../../../src/writing/drawing/drawing.ts';
import type { LayerName } from '../../../src/writing/drawing/layers.ts';
import { LETTERING_HEIGHTS, textBox } from '../../../src/writing/drawing/lettering.ts';
import { areaLoops } from '../../../src/writing/drawing/outline-model.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { DRAWN_DESIGNS, drawnDesign } from './drawn-designs.ts';
import { curvesOn, LAYER_NAMES, linesOn, loopArea, textsOn } from './drawn-items.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: true };
/** Boxes that share an edge do not overlap. */
const TOUCH = 1e-9;

const overlap = (a: Box, b: Box) =>
  a.left < b.right - TOUCH &&
  b.left < a.right - TOUCH &&
  a.bottom < b.top - TOUCH &&
  b.bottom < a.top - TOUCH;
const inBox = ([x, y]: Vec2, box: Box) => x > box.left && x < box.right && y > box.bottom && y < box.top;

describe.each(DRAWN_DESIGNS)('the layout of %s', (_, wish) => {
  const design = drawnDesign(wish);
  const drawing = layoutModel(design, CONTEXT);
  const boxesOn = (...layers: readonly LayerName[]) =>
    textsOn(drawing, ...layers).map((text) => ({ text: text.text, height: text.height, box: textBox(text) }));
  const boxes = boxesOn(...LAYER_NAMES.filter((name) => name !== 'DRAFT_MARK' && name !== 'GRID'));

  it('lays no text over another', () => {
    const pairs = boxes.flatMap((a, k) =>
      boxes
        .slice(k + 1)
        .filter((b) => overlap(a.box, b.box))
        .map((b) => [a.text, b.text]),
    );
    expect(pairs).toEqual([]);
  });

  it('keeps every text and shape on the sheet', () => {
    const { left, bottom, right, top } = drawing.sheet;
    for (const { text, box } of boxes) {
      expect(box.left >= left && box.right <= right && box.bottom >= bottom && box.top <= top, text).toBe(
        true,
      );
    }
    for (const [layer, items] of drawing.layers) {
      for (const item of items) {
        if (isText(item)) continue;
        const { low, high } = makerjs.measure.modelExtents(item)!;
        const ends = [low, high].map((point): Vec2 => [point[0]!, point[1]!]);
        expect(
          ends.every((point) => inBox(point, drawing.sheet)),
          layer,
        ).toBe(true);
      }
    }
  });

  it('keeps captions off the patches, and names each patch once', () => {
    const captions = boxesOn('CAPTIONS');
    expect(captions.map(({ text }) => Number.parseInt(text, 10))).toEqual(
      design.patches.map((__, k) => k + 1),
    );
    for (const { outline, id } of design.patches) {
      const { xs, ys } = boundaryPoints(outline, 200);
      for (const { text, box } of captions) {
        const middle: Vec2 = [(box.left + box.right) / 2, (box.bottom + box.top) / 2];
        const meets = contains(outline, middle) || Array.from(xs).some((x, k) => inBox([x, ys[k]!], box));
        expect(meets, `caption ${text} on patch ${id}`).toBe(false);
      }
    }
  });

  it('letters in one height of ISO 3098, 2.5 mm or more; grid references are 3.5 mm high (ISO 5457)', () => {
    const words = textsOn(drawing, ...LAYER_NAMES.filter((name) => name !== 'DRAFT_MARK' && name !== 'GRID'));
    const heights = new Set(words.map(({ height }) => height));
    expect([...heights]).toHaveLength(1);
    for (const height of heights) expect(LETTERING_HEIGHTS).toContain(height);
    expect(new Set(textsOn(drawing, 'GRID').map(({ height }) => height))).toEqual(new Set([3.5]));
  });

  it('tints the area of every pattern, a ring without its middle', () => {
    const tinted = drawing.layers.get('PATTERN_AREAS')!.filter((item): item is Curves => !isText(item));
    expect(tinted.map(({ owner }) => owner)).toEqual(design.patches.map(({ id }) => id));
    design.patches.forEach(({ outline }, k) => {
      expect(tinted[k]!.holes?.length ?? 0).toBe(outline.shape === 'ring' ? 1 : 0);
      const area = areaLoops(tinted[k]!).reduce((sum, loop) => sum + loopArea(loop), 0);
      expect(area).toBeCloseTo(areaOf(outline), 6);
    });
  });

  it('shows the line of a line focus at its angle, inside its patch', () => {
    const wanted = design.patches.filter(({ asked }) => asked.focus === 'line');
    const lines = linesOn(drawing, 'FOCUS_LINES');
    for (const { asked, outline } of wanted) {
      const along = lines.filter((line) => {
        const turned = Math.atan2(line.to[1] - line.from[1], line.to[0] - line.from[0]) - asked.lineAngle!;
        return (
          Math.abs(Math.sin(turned)) < 1e-9 && contains(outline, line.from) && contains(outline, line.to)
        );
      });
      expect(along.length, asked.id).toBeGreaterThanOrEqual(2);
    }
  });
});

describe('the view mark', () => {
  const drawing = layoutModel(drawnDesign(DRAWN_DESIGNS[2]![1]), CONTEXT);

  it('is an F that reads correctly: counterclockwise, its arms to the right of the stem and above its middle', () => {
    const points = curvesOn(drawing, 'VIEW_MARK').flatMap((curve) =>
      curve.kind === 'loop' ? curve.vertices.map(({ point }) => point) : [],
    );
    const area = points.reduce((sum, [x, y], k) => {
      const [u, v] = points[(k + 1) % points.length]!;
      return sum + (x * v - u * y) / 2;
    }, 0);
    expect(area).toBeGreaterThan(0);
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    const [left, bottom] = [Math.min(...xs), Math.min(...ys)];
    const height = Math.max(...ys) - bottom;
    // a point of the lower right quarter would make it another letter
    expect(points.some(([x, y]) => x - left > height / 3 && y - bottom < height / 3)).toBe(false);
    expect(points.some(([x, y]) => x - left > height / 2 && y - bottom > height / 2)).toBe(true);
  });

  it('labels +x at the right and +y at the top, and stands outside the substrate', () => {
    const place = (label: string): Vec2 =>
      textsOn(drawing, 'VIEW_MARK').find(({ text }) => text === label)!.at;
    const [x, y] = [place('+x'), place('+y')];
    expect(x[0]).toBeGreaterThan(y[0]);
    expect(y[1]).toBeGreaterThan(x[1]);
    const lines = linesOn(drawing, 'VIEW_MARK');
    expect(lines.length).toBeGreaterThan(0);
    for (const { from, to } of lines)
      for (const [u, v] of [from, to]) expect(Math.hypot(u, v)).toBeGreaterThan(75);
  });
});
