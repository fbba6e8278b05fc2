/**
 * The font embedded in layout.pdf, read back from the file by readers of another make (poppler's pdffonts, pdftotext, pdftoppm), and its
 * letters against those of the whole font: the same outlines are painted, the same widths advanced.
 */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, test } from 'vitest';
import { drawingFont } from '../../../src/disk/shipped-files.ts';
import { layoutPdf } from '../../../src/writing/drawing/formats/layout-pdf.ts';
import { trueTypeOf, unprintable } from '../../../src/writing/drawing/formats/pdf-fonts.ts';
import { letterFindings } from '../../../src/writing/drawing/formats/pdf-letters.ts';
import { textAt } from '../../../src/writing/drawing/lettering.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { lacks, program } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';
import '../../machine/patience.ts';
import { allOutlines, drawingWish, drawnDesign } from './drawn-designs.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };
const font = trueTypeOf(drawingFont());
const [pdffonts, pdftotext, pdftoppm] = ['pdffonts', 'pdftotext', 'pdftoppm'].map(program);

/** A drawing with these lines, one below the other, in place of its captions. */
function pdfOf(...lines: readonly string[]): Uint8Array {
  const drawing = layoutModel(drawnDesign({ patches: allOutlines }), CONTEXT);
  const items = lines.map((line, k) => textAt(line, [-40, 40 - 5 * k], 2.5));
  return layoutPdf({ ...drawing, layers: new Map([['CAPTIONS', items]]) }, drawingFont());
}

/** What a reader finds in a file of these bytes. */
function outputOf(
  command: string,
  bytes: Uint8Array,
  before: readonly string[] = [],
  after: readonly string[] = [],
): string {
  const file = join(temporaryFolder(), 'layout.pdf');
  writeFileSync(file, bytes);
  const run = spawnSync(command, [...before, file, ...after], { encoding: 'utf8' });
  expect(run.stderr).toBe('');
  return run.stdout;
}

const LINES = [
  'minus −1.5, lambda λ, Φ Δ µ Ω → × ± ° Ø',
  'Größe, façade, Łódź, Çeşme, naïve',
  'Подложка голограммы',
  'Υπόστρωμα ολογράμματος',
  'Հոլոգրամ',
  'ÄÉ é ﬁ', // composite glyphs
];

test.skipIf(lacks({ pdffonts, pdftotext }))(
  'every letter of the scripts it has is embedded and found by a search',
  () => {
    const pdf = pdfOf(...LINES);
    expect(outputOf(pdffonts!, pdf)).toMatch(
      /^[A-Z]{6}\+DejaVuSansCondensed +CID TrueType +Identity-H +yes yes yes/m,
    );
    expect(outputOf(pdftotext!, pdf, ['-raw'], ['-']).trim().split('\n')).toEqual(
      LINES.map((line) => line.normalize('NFC')),
    );
  },
);

test.skipIf(lacks({ pdftoppm }))(
  'letters are painted where their outlines and widths in the whole font say',
  () => {
    // At 600 dots an inch: the ink of each of these letters twice, in dots, against its glyph's box and advance in the font.
    const dots = 600 / 25.4;
    const size = (2.5 * font.perEm) / font.capitals;
    for (const letter of ['H', 'λ', 'Ä', '−']) {
      const file = join(temporaryFolder(), 'layout.pdf');
      writeFileSync(file, pdfOf(letter + letter));
      const run = spawnSync(pdftoppm!, ['-r', '600', '-gray', '-aa', 'no', file], { maxBuffer: 1 << 28 });
      expect(run.stderr.toString()).toBe('');
      const ink = inkOf(run.stdout);
      const [left, bottom, right, top] = glyphBox(letter).map(
        (length) => (length / font.perEm) * size * dots,
      ) as [number, number, number, number];
      const advance = (font.advanceOf(font.glyphOf(letter)!) / font.perEm) * size * dots;
      expect(Math.abs(ink.width - (advance + right - left)), letter).toBeLessThan(2);
      expect(Math.abs(ink.height - (top - bottom)), letter).toBeLessThan(2);
    }
  },
);

/** The box of what is dark in a grey picture (PGM). */
function inkOf(picture: Buffer): { width: number; height: number } {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(picture.toString('latin1', 0, 40))!;
  const [width, height] = [Number(head[1]), Number(head[2])];
  let [left, right, top, bottom] = [width, -1, height, -1];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (picture[head[0].length + y * width + x]! > 127) continue;
      [left, right] = [Math.min(left, x), Math.max(right, x)];
      [top, bottom] = [Math.min(top, y), Math.max(bottom, y)];
    }
  }
  return { width: right - left + 1, height: bottom - top + 1 };
}

/** Left, bottom, right, top of a glyph, from the head of its outline in the font's own file. */
function glyphBox(letter: string): readonly number[] {
  const file = Buffer.from(drawingFont());
  const table = (tag: string): number => {
    const at =
      12 +
      16 *
        Array.from({ length: file.readUInt16BE(4) }, (_, k) =>
          file.toString('latin1', 12 + 16 * k, 16 + 16 * k),
        ).indexOf(tag);
    return file.readUInt32BE(at + 8);
  };
  const at = table('glyf') + file.readUInt32BE(table('loca') + 4 * font.glyphOf(letter)!);
  return [2, 4, 6, 8].map((field) => file.readInt16BE(at + field));
}

describe('letters that the font cannot print', () => {
  it.each([
    ['Prüfling λ/2 − Φ', []],
    ['基準', ['基', '準']],
    ['שלום', [...'שלום']],
    ['नमस्ते', [...new Set('नमस्ते')]],
  ])('of %s', (text, letters) => {
    expect(unprintable(font, text)).toEqual(letters);
  });

  it('are told by a warning at the text that holds them, and stand as one sign on the page', () => {
    const drawing = drawingWish({ number: 'Ж-1', revision: '基' });
    const found = letterFindings({ title: '基準 A', drawing }, drawingFont());
    expect(found.map(({ severity, where, path }) => ({ severity, where, path }))).toEqual([
      { severity: 'warning', where: 'title', path: ['title'] },
      { severity: 'warning', where: 'drawing.revision', path: ['drawing', 'revision'] },
    ]);
    expect(found[0]!.message).toContain('`基` (U+57FA), `準` (U+6E96)');
    expect(letterFindings({ title: 'Größe λ', drawing: undefined }, drawingFont())).toEqual([]);
  });
});
