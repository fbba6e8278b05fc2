/** The PDF's own bytes: a table of offsets that is right, curves that stay on their arcs, the same layers and places as in the other drawings. */
import { describe, expect, it } from 'vitest';
import { drawingFont } from '../../../src/disk/shipped-files.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import type { Drawing } from '../../../src/writing/drawing/drawing.ts';
import {
  arcPath,
  circlePath,
  layoutPdf,
  type PathStep,
} from '../../../src/writing/drawing/formats/layout-pdf.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { allOutlines, drawnDesign, HOSTILE_DESIGN } from './drawn-designs.ts';
import { curvesOn } from './drawn-items.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: true };
const drawing = layoutModel(drawnDesign({ patches: allOutlines }), CONTEXT);
const pdfOf = (model: Drawing): Uint8Array => layoutPdf(model, drawingFont());
const text = new TextDecoder('latin1').decode(pdfOf(drawing));

/** Largest departure of the curves from a circle about `centre`, against its radius. */
function departure(from: Vec2, steps: readonly PathStep[], centre: Vec2, radius: number): number {
  let [worst, start] = [0, from];
  for (const step of steps) {
    const points: Vec2[] = [start, [step[0]!, step[1]!], [step[2]!, step[3]!], [step[4]!, step[5]!]];
    for (let t = 0; t <= 1; t += 0.01) {
      const weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
      const [x, y] = [0, 1].map((axis) =>
        points.reduce((sum, point, k) => sum + weights[k]! * point[axis as 0 | 1], 0),
      );
      worst = Math.max(worst, Math.abs(Math.hypot(x! - centre[0], y! - centre[1]) / radius - 1));
    }
    start = points[3]!;
  }
  return worst;
}

describe('curves', () => {
  it('of a circle and of arcs either way leave them by less than 5e-6 of the radius', () => {
    const [start, ...circle] = circlePath([3, -2], 40);
    expect(departure([start![0]!, start![1]!], circle, [3, -2], 40)).toBeLessThan(5e-6);
    for (const sweep of [0.3, 2, -1.1, -2.09]) {
      const [from, to]: Vec2[] = [0.4, 0.4 + sweep].map(
        (angle): Vec2 => [3 + 40 * Math.cos(angle), -2 + 40 * Math.sin(angle)],
      );
      const arc = arcPath(from!, to!, Math.tan(sweep / 4));
      expect(departure(from!, arc, [3, -2], 40)).toBeLessThan(5e-6);
      expect(arc.at(-1)!.slice(4)).toEqual(to);
    }
  });
});

describe('the file', () => {
  it('has each object where its table says', () => {
    const offsets = [...text.matchAll(/^(\d{10}) 00000 n $/gm)].map(([, at]) => Number(at));
    expect(offsets.length).toBeGreaterThan(10);
    offsets.forEach((at, k) => {
      expect(text.slice(at, at + 12).startsWith(`${k + 1} 0 obj`)).toBe(true);
    });
    const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(text)![1]);
    expect(text.slice(start, start + 4)).toBe('xref');
    const [, length, stream] = /\/Length (\d+) >>\nstream\n([\s\S]*?)\nendstream/.exec(text)!;
    expect(stream!.length).toBe(Number(length));
  });

  it('draws circles and lines at the coordinates of the substrate frame, and has every layer', () => {
    const circle = curvesOn(drawing, 'PATCHES').find(
      ({ kind, owner }) => kind === 'circle' && owner === 'round',
    );
    expect(circle).toMatchObject({ centre: [0, 60], radius: 5 });
    expect(text).toContain('5 60 m 5 ');
    for (const layer of drawing.layers.keys()) expect(text).toContain(`/OCG /Name (${layer})`);
  });

  it('is ASCII after a zero byte that marks it as binary, holds no date, and comes out the same again', () => {
    const afterMark = (pdf: string): string => pdf.replace('%PDF-1.5\n%\0\n', '');
    expect(text.indexOf('\0')).toBe('%PDF-1.5\n%'.length);
    expect(afterMark(text)).toMatch(/^[\n -~]*$/);
    expect(text).not.toMatch(/Date/);
    expect(pdfOf(drawing)).toEqual(pdfOf(drawing));
    const hostile = new TextDecoder('latin1').decode(pdfOf(layoutModel(HOSTILE_DESIGN, CONTEXT)));
    expect(afterMark(hostile)).toMatch(/^[\n -~]*$/);
    expect(hostile.match(/endobj/g)!.length).toBe(text.match(/endobj/g)!.length);
  });
});
