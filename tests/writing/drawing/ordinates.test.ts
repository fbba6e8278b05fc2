/** Ordinates, sheets and their frames, as the drawing shows them. */
import { describe, expect, it } from 'vitest';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import type { DrawingWish, SheetWord } from '../../../src/scenario/drawing-wish.ts';
import type { Drawing } from '../../../src/writing/drawing/drawing.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import {
  allOutlines,
  type DrawnWish,
  drawingWish,
  drawnDesign,
  patch,
  ringOfPatches,
  square,
} from './drawn-designs.ts';
import { linesOn, textsOn } from './drawn-items.ts';
import '../../machine/patience.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };

function drawn(wish: DrawnWish, drawing?: DrawingWish, context = CONTEXT): Drawing {
  const design = drawnDesign(wish);
  return layoutModel(
    drawing === undefined ? design : { ...design, scenario: { ...design.scenario, drawing } },
    context,
  );
}
const wish = (sheet: SheetWord): DrawingWish =>
  drawingWish({ number: 'HT-0417', revision: 'B', sheet, date: '2026-01-31' });

describe('ordinates', () => {
  const patches = [...allOutlines, patch('near', 'north', square([61, 2], 3), [61, 2])];
  const drawing = drawn({ patches });
  const values = textsOn(drawing, 'DIMENSIONS').map(({ text }) => text);

  it('of every centre stand around the view, in brackets, and lines lead from the centre to them', () => {
    const lines = linesOn(drawing, 'DIMENSIONS');
    for (const { centre } of patches) {
      for (const axis of [0, 1] as const) {
        if (Math.abs(centre[axis]) < 1e-9) continue;
        expect(values).toContain(`(${centre[axis]})`);
        const along = lines.filter(
          ({ from, to }) =>
            Math.abs(from[axis] - centre[axis]) < 1e-9 && Math.abs(to[axis] - centre[axis]) < 1e-9,
        );
        const through = along.filter(({ from, to }) =>
          [from, to].some((end: Vec2) => Math.abs(end[1 - axis]!) > 75),
        );
        expect(through.length, `${centre}`).toBeGreaterThan(0);
      }
    }
  });

  it('name the axes at their ends', () => {
    expect(values).toEqual(expect.arrayContaining(['x = 0', 'y = 0']));
  });

  it('of the edges stand with them where the substrate is not round about the origin', () => {
    const plate = drawn({
      substrate: { shape: 'rectangle', centre: [10, 5], width: 152.4, height: 152.4, rotation: 0 },
      patches: [patch('one', 'north', square([30, 10], 12), [30, 10])],
    });
    const shown = textsOn(plate, 'DIMENSIONS').map(({ text }) => text);
    expect(shown).toEqual(expect.arrayContaining(['-66.2', '-71.2', '152.4', '(30)', '(10)']));
    const block = textsOn(plate, 'TITLE_BLOCK')
      .map(({ text }) => text)
      .join(' ');
    expect(block).toMatch(/left edge at x = -66\.2, bottom edge at y = -71\.2/);
  });

  it('give way to the table where there are many patches', () => {
    const many = drawn({ patches: ringOfPatches(40, 6, [64, 52]) });
    expect(textsOn(many, 'DIMENSIONS').filter(({ text }) => text.startsWith('('))).toEqual([]);
  });
});

describe('the sheet', () => {
  const few: DrawnWish = {
    substrate: { shape: 'circle', centre: [0, 0], radius: 25 },
    keepOuts: [],
    patches: ringOfPatches(2, 5, [15]),
  };
  it.each<[SheetWord, RegExp, number, number]>([
    ['ISO', /^A3$/, 420, 297],
    ['A2', /^A2$/, 594, 420],
    ['A1', /^A1$/, 841, 594],
    ['ANSI C', /^ANSI C$/, 558.8, 431.8],
    ['ANSI D', /^ANSI D$/, 863.6, 558.8],
  ])('wished as %s', (word, name, width, height) => {
    const { sheet, sheetName } = drawn(few, wish(word));
    expect(sheetName).toMatch(name);
    expect(sheet.right - sheet.left).toBeCloseTo(width, 9);
    expect(sheet.top - sheet.bottom).toBeCloseTo(height, 9);
  });

  it('is a larger one of the same series where the wished one does not hold the drawing', () => {
    const large = {
      substrate: { shape: 'circle', centre: [0, 0], radius: 200 },
      patches: ringOfPatches(6, 10, [60]),
    } as const;
    expect(drawn(large, wish('A4')).sheetName).toMatch(/^A[01]$/);
    expect(drawn(large, wish('ANSI A')).sheetName).toMatch(/^ANSI [DEF]$/);
  });

  // counts of ISO 5457:1999, table 2, from memory
  it.each([
    ['A3', 8, 6],
    ['A2', 12, 8],
    ['A1', 16, 12],
    ['A0', 24, 16],
  ] as const)('%s has its grid references', (word, columns, rows) => {
    const drawing = drawn(few, wish(word));
    expect(drawing.sheetName).toBe(word);
    const grid = textsOn(drawing, 'GRID').map(({ text }) => text);
    expect(grid.filter((text) => /^\d+$/.test(text)).length).toBe(2 * columns);
    expect(new Set(grid.filter((text) => /^[A-Z]$/.test(text))).size).toBe(rows);
    expect(grid).not.toContain('I');
    expect(grid).not.toContain('O');
    const first = textsOn(drawing, 'GRID').find(({ text }) => text === 'A')!;
    const last = textsOn(drawing, 'GRID').find(({ text }) => text === 'B')!;
    expect(first.at[1]).toBeGreaterThan(last.at[1]);
  });
});

describe('the title block', () => {
  const words = (drawing: Drawing): string =>
    textsOn(drawing, 'TITLE_BLOCK')
      .map(({ text }) => text)
      .join(' ');
  const few = { patches: ringOfPatches(2, 10, [60]) };

  it('has number, revision, date and the hash of the table', () => {
    const shown = words(
      drawn(few, wish('ISO'), { ...CONTEXT, tableHash: 'fedcba9876543210'.repeat(4) } as typeof CONTEXT),
    );
    expect(shown).toContain('HT-0417, REVISION B, 2026-01-31');
    expect(shown).toContain('coefficients.csv (SHA-256 fedcba987654)');
  });

  it('has no date that was not given', () => {
    expect(words(drawn(few))).not.toMatch(/\d{4}-\d{2}-\d{2}/);
    const dated = words(drawn(few, undefined, { ...CONTEXT, date: '2026-02-01' } as typeof CONTEXT));
    expect(dated).toContain('REVISION –, 2026-02-01');
  });

  it('lists a polygon’s corners and says which side the pattern is on', () => {
    const shown = drawn({ patches: allOutlines, patternFaces: 'interferometer' });
    const table = textsOn(shown, 'TITLE_BLOCK')
      .map(({ text }) => text)
      .join(' ');
    for (const corner of ['(-60,20)', '(-50,20)', '(-48,28)', '(-55,33)', '(-61,27)'])
      expect(table).toContain(corner);
    expect(table).toContain('side down');
    expect(words(drawn(few))).toContain('side up');
  });
});
