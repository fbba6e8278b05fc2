/**
 * The font of layout.pdf: DejaVu Sans Condensed, of which the file holds the glyphs that it uses, so that every reader shows
 * the same letters (ISO 32000-1, 9.7: a composite font of two-byte codes, which are the glyphs' numbers in the embedded subset).
 */
import { readTrueType, type TrueType } from './true-type.ts';

/** What stands for a letter that the font cannot print: U+FFFD, a question mark in a diamond, which no sound text holds. */
const STAND_IN = '\ufffd';

/** Scripts whose letters join, turn or stand on each other: glyph after glyph from the left would be misread. */
const SHAPED =
  /[\p{M}\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}\p{Script=Devanagari}\p{Script=Bengali}\p{Script=Tamil}\p{Script=Thai}\p{Script=Lao}\p{Script=Khmer}\p{Script=Myanmar}\p{Script=Tibetan}]/u;

/** Letters of the font, numbered in the order in which they are first used. */
export class PdfLettering {
  readonly #font: TrueType;
  readonly #codes = new Map<
    string,
    { readonly code: number; readonly glyph: number; readonly width: number }
  >();

  constructor(font: TrueType) {
    this.#font = font;
  }

  /** Height of the capitals against the size. */
  get capitals(): number {
    return this.#font.capitals / this.#font.perEm;
  }

  /** Hexadecimal digits, four a letter. */
  codes(text: string): string {
    return [...composed(text)].map((letter) => hex(this.#of(letter).code, 4)).join('');
  }

  /** In sizes. */
  width(text: string): number {
    return [...composed(text)].reduce((sum, letter) => sum + this.#of(letter).width / 1000, 0);
  }

  /** The font's objects, the first of which stands for it; they are numbered from `first` on. */
  objects(first: number): string[] {
    const font = this.#font;
    const used = [...this.#codes];
    const subset = font.subset(used.map(([, { glyph }]) => glyph));
    const stream = `${[...subset].map((byte) => hex(byte, 2)).join('')}>`;
    const thousandth = (length: number): number => Math.round((1000 * length) / font.perEm);
    const name = `${tagOf(used.map(([letter]) => letter))}+DejaVuSansCondensed`;
    const unicode = toUnicode(used.map(([letter, { code }]) => [code, letter]));
    return [
      `<< /Type /Font /Subtype /Type0 /BaseFont /${name} /Encoding /Identity-H /DescendantFonts [${first + 1} 0 R] /ToUnicode ${first + 4} 0 R >>`,
      `<< /Type /Font /Subtype /CIDFontType2 /BaseFont /${name} /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor ${first + 2} 0 R /CIDToGIDMap /Identity /W [1 [${used.map(([, { width }]) => width).join(' ')}]] >>`,
      `<< /Type /FontDescriptor /FontName /${name} /Flags 4 /FontBBox [${font.box.map(thousandth).join(' ')}] /ItalicAngle 0 /Ascent ${thousandth(font.ascent)} /Descent ${thousandth(font.descent)} /CapHeight ${thousandth(font.capitals)} /StemV 80 /FontFile2 ${first + 3} 0 R >>`,
      `<< /Length ${stream.length} /Length1 ${subset.length} /Filter /ASCIIHexDecode >>\nstream\n${stream}\nendstream`,
      `<< /Length ${unicode.length} >>\nstream\n${unicode}\nendstream`,
    ];
  }

  #of(letter: string) {
    const known = this.#codes.get(letter);
    if (known !== undefined) return known;
    const glyph = glyphIn(this.#font, letter) ?? this.#font.glyphOf(STAND_IN)!;
    const width = Math.round((1000 * this.#font.advanceOf(glyph)) / this.#font.perEm);
    const entry = { code: this.#codes.size + 1, glyph, width };
    this.#codes.set(letter, entry);
    return entry;
  }
}

/** The letters of a text that the font cannot print, each once, in the text's order. */
export const unprintable = (font: TrueType, text: string): string[] => [
  ...new Set([...composed(text)].filter((letter) => glyphIn(font, letter) === undefined)),
];

const composed = (text: string): string => text.normalize('NFC').replaceAll('\u00a0', ' ');

const glyphIn = (font: TrueType, letter: string): number | undefined =>
  SHAPED.test(letter) ? undefined : font.glyphOf(letter);

let read: { readonly bytes: Uint8Array; readonly font: TrueType } | undefined;

/** Read once. */
export function trueTypeOf(bytes: Uint8Array): TrueType {
  if (read?.bytes !== bytes) read = { bytes, font: readTrueType(bytes) };
  return read.font;
}

const hex = (value: number, digits: number): string => value.toString(16).padStart(digits, '0');

/** Six capitals. */
const SUBSETS = 308_915_776;

/** Six capitals that name a subset (ISO 32000-1, 9.6.4): another one for other letters. */
function tagOf(letters: readonly string[]): string {
  let sum = 0;
  for (const letter of letters) sum = (31 * sum + letter.codePointAt(0)!) % SUBSETS;
  let tag = '';
  for (let k = 0; k < 6; k++) {
    tag += String.fromCharCode(65 + (sum % 26));
    sum = Math.floor(sum / 26);
  }
  return tag;
}

/** Most entries of one list of a character map. */
const MOST_ENTRIES = 100;

/** So that a text can be searched and copied: what each code means. */
function toUnicode(codes: readonly (readonly [code: number, letter: string])[]): string {
  const lists = Array.from({ length: Math.ceil(codes.length / MOST_ENTRIES) }, (_, k) =>
    codes.slice(MOST_ENTRIES * k, MOST_ENTRIES * (k + 1)),
  );
  const units = (letter: string): string =>
    Array.from({ length: letter.length }, (_, k) => hex(letter.charCodeAt(k), 4)).join('');
  return [
    '/CIDInit /ProcSet findresource begin 12 dict begin begincmap',
    '/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def',
    '/CMapName /Adobe-Identity-UCS def /CMapType 2 def',
    '1 begincodespacerange <0000> <ffff> endcodespacerange',
    ...lists.map(
      (list) =>
        `${list.length} beginbfchar\n${list.map(([code, letter]) => `<${hex(code, 4)}> <${units(letter)}>`).join('\n')}\nendbfchar`,
    ),
    'endcmap CMapName currentdict /CMap defineresource pop end end',
  ].join('\n');
}
