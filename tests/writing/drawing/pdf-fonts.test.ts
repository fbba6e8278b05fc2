/**
 * Widths of the drawing's letters in a PDF against a font made to the same widths: Liberation Sans, whose characters are as wide as
 * Helvetica's (its fonts' stated aim), read from its TrueType tables `cmap` and `hmtx` (ISO/IEC 14496-22).
 */
import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fontRuns, runsWidth } from '../../../src/writing/drawing/formats/pdf-fonts.ts';

const FONT = [
  '/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf',
  '/usr/share/fonts/liberation-sans/LiberationSans-Regular.ttf',
].find((file) => existsSync(file));

/** Widths by character, in sizes. */
function widthsOf(file: string): (character: string) => number {
  const font = readFileSync(file);
  const tables = new Map(
    Array.from({ length: font.readUInt16BE(4) }, (_, k) => {
      const at = 12 + 16 * k;
      return [font.toString('latin1', at, at + 4), font.readUInt32BE(at + 8)] as const;
    }),
  );
  const perSize = font.readUInt16BE(tables.get('head')! + 18);
  const measured = font.readUInt16BE(tables.get('hhea')! + 34);
  const map = unicodeMap(font, tables.get('cmap')!);
  return (character) => {
    const glyph = Math.min(glyphOf(font, map, character.codePointAt(0)!), measured - 1);
    return font.readUInt16BE(tables.get('hmtx')! + 4 * glyph) / perSize;
  };
}

/** Where the subtable of format 4 stands. */
function unicodeMap(font: Buffer, cmap: number): number {
  const places = Array.from({ length: font.readUInt16BE(cmap + 2) }, (_, k) => {
    return cmap + font.readUInt32BE(cmap + 4 + 8 * k + 4);
  });
  return places.find((at) => font.readUInt16BE(at) === 4)!;
}

function glyphOf(font: Buffer, map: number, code: number): number {
  const doubled = font.readUInt16BE(map + 6);
  for (let k = 0; k < doubled; k += 2) {
    const [end, start] = [font.readUInt16BE(map + 14 + k), font.readUInt16BE(map + 16 + doubled + k)];
    if (code > end || code < start) continue;
    const delta = font.readUInt16BE(map + 16 + 2 * doubled + k);
    const rangeAt = map + 16 + 3 * doubled + k;
    const range = font.readUInt16BE(rangeAt);
    const glyph = range === 0 ? code : font.readUInt16BE(rangeAt + range + 2 * (code - start));
    return (glyph + delta) % 65536;
  }
  return 0;
}

const ASCII = Array.from({ length: 95 }, (_, k) => String.fromCharCode(32 + k)).join('');

test.skipIf(FONT === undefined)('every character that can be typed is as wide as in the font', () => {
  const widthOf = widthsOf(FONT!);
  const wrong = [...`${ASCII}Ø×–—…“”‘’`].filter((character) => {
    // A 2048th of the size is the font's step.
    return Math.abs(runsWidth(fontRuns(character)) - widthOf(character)) > 1 / 1000;
  });
  expect(wrong).toEqual([]);
});

test('the Greek letters and signs are those of the Symbol font: F is Φ, D is Δ, l is λ', () => {
  const bytes = (text: string): string =>
    fontRuns(text)
      .map(({ font, bytes: run }) => `${font} ${run}`)
      .join();
  const code = (letter: string): string => letter.charCodeAt(0).toString(16);
  expect(bytes('ΦΔλ')).toBe(`S ${code('F')}${code('D')}${code('l')}`);
  // Widths of Symbol's published metrics, from memory: Phi 763, Delta 612, lambda 549, minus 549, arrowright 987.
  for (const [letter, width] of [
    ['Φ', 763],
    ['Δ', 612],
    ['λ', 549],
    ['−', 549],
    ['→', 987],
  ] as const) {
    expect(runsWidth(fontRuns(letter))).toBeCloseTo(width / 1000, 12);
  }
});
