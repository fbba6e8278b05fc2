/**
 * A TrueType font (ISO/IEC 14496-22) read as far as a PDF needs it: which glyph a character has, how wide it is, and a font of
 * the glyphs used alone. Left out of that font: hinting, which only screens of few pixels use, and all tables that a PDF's reader does not
 * need (ISO 32000-1, 9.9). Lengths are in the font's units, `perEm` to the size.
 */

export interface TrueType {
  readonly perEm: number;
  /** Of a capital H above the base line. */
  readonly capitals: number;
  readonly ascent: number;
  /** Negative. */
  readonly descent: number;
  /** Left, bottom, right, top. */
  readonly box: readonly number[];
  /** Undefined where the font has none. */
  glyphOf(character: string): number | undefined;
  advanceOf(glyph: number): number;
  /** A font of these glyphs in this order, after the one for a missing glyph, with what they are composed of after them. */
  subset(glyphs: readonly number[]): Uint8Array;
}

/** Flags of a composite glyph's parts. */
const WORDS = 0x0001;
const SCALED = 0x0008;
const MORE = 0x0020;
const SCALED_BOTH = 0x0040;
const MATRIX = 0x0080;
const INSTRUCTED = 0x0100;

/** Of the end points' list in a simple glyph, and of the first part in a composite one. */
const GLYPH_HEAD = 10;
/** Of its highest point's ordinate. */
const TOP = 8;

export function readTrueType({ buffer, byteOffset, byteLength }: Uint8Array): TrueType {
  // a Buffer's own slice would not copy
  const bytes = new Uint8Array(buffer, byteOffset, byteLength);
  const font = new DataView(buffer, byteOffset, byteLength);
  const u16 = (at: number): number => font.getUint16(at);
  const tables = new Map(
    Array.from({ length: u16(4) }, (_, k) => {
      const at = 12 + 16 * k;
      const tag = String.fromCharCode(...bytes.subarray(at, at + 4));
      return [tag, { at: font.getUint32(at + 8), length: font.getUint32(at + 12) }] as const;
    }),
  );
  const start = (tag: string): number => tables.get(tag)!.at;
  const [head, hhea, loca, glyf] = ['head', 'hhea', 'loca', 'glyf'].map(start) as Four;
  const measured = u16(hhea + 34);
  const hmtx = start('hmtx');
  const map = wholeMap(font, start('cmap'));
  const isLong = u16(head + 50) === 1;
  const offset = (glyph: number): number =>
    isLong ? font.getUint32(loca + 4 * glyph) : 2 * u16(loca + 2 * glyph);
  const glyphBytes = (glyph: number): Uint8Array =>
    bytes.subarray(glyf + offset(glyph), glyf + offset(glyph + 1));
  const metric = (glyph: number): number => hmtx + 4 * Math.min(glyph, measured - 1);
  const bearing = (glyph: number): number =>
    font.getInt16(glyph < measured ? metric(glyph) + 2 : hmtx + 4 * measured + 2 * (glyph - measured));
  const table = (tag: string): Uint8Array => {
    const { at, length } = tables.get(tag)!;
    return bytes.slice(at, at + length);
  };

  return {
    perEm: u16(head + 18),
    capitals: font.getInt16(glyf + offset(map('H'.charCodeAt(0))) + TOP),
    ascent: font.getInt16(hhea + 4),
    descent: font.getInt16(hhea + 6),
    box: [36, 38, 40, 42].map((at) => font.getInt16(head + at)),
    glyphOf: (character) => map(character.codePointAt(0)!) || undefined,
    advanceOf: (glyph) => u16(metric(glyph)),
    subset(glyphs) {
      const kept = [0, ...glyphs];
      const places = new Map(kept.map((glyph, k) => [glyph, k]));
      const place = (glyph: number): number => {
        const found = places.get(glyph) ?? kept.push(glyph) - 1;
        places.set(glyph, found);
        return found;
      };
      const outlines: Uint8Array[] = [];
      // grows while the parts of composite glyphs are met
      for (let k = 0; k < kept.length; k++) outlines.push(unhinted(glyphBytes(kept[k]!), place));
      const headTable = table('head');
      new DataView(headTable.buffer).setUint32(8, 0);
      new DataView(headTable.buffer).setUint16(50, 1);
      const hheaTable = table('hhea');
      new DataView(hheaTable.buffer).setUint16(34, kept.length);
      const maxpTable = table('maxp');
      new DataView(maxpTable.buffer).setUint16(4, kept.length);
      const offsets = new DataView(new ArrayBuffer(4 * (kept.length + 1)));
      const metrics = new DataView(new ArrayBuffer(4 * kept.length));
      let at = 0;
      kept.forEach((glyph, k) => {
        metrics.setUint16(4 * k, u16(metric(glyph)));
        metrics.setInt16(4 * k + 2, bearing(glyph));
        at += outlines[k]!.length;
        offsets.setUint32(4 * (k + 1), at);
      });
      return fontFile([
        ['glyf', joined(outlines)],
        ['head', headTable],
        ['hhea', hheaTable],
        ['hmtx', new Uint8Array(metrics.buffer)],
        ['loca', new Uint8Array(offsets.buffer)],
        ['maxp', maxpTable],
      ]);
    },
  };
}

type Four = [number, number, number, number];

/** The glyph of a code point, 0 where there is none, by the subtable of format 12, which has every plane, or of format 4. */
function wholeMap(font: DataView, cmap: number): (code: number) => number {
  const places = Array.from(
    { length: font.getUint16(cmap + 2) },
    (_, k) => cmap + font.getUint32(cmap + 8 + 8 * k),
  );
  const ofFormat = (format: number): number | undefined => places.find((at) => font.getUint16(at) === format);
  const groups = ofFormat(12);
  if (groups !== undefined) {
    const count = font.getUint32(groups + 12);
    return (code) => {
      for (let at = groups + 16; at < groups + 16 + 12 * count; at += 12) {
        const first = font.getUint32(at);
        if (code >= first && code <= font.getUint32(at + 4)) return font.getUint32(at + 8) + code - first;
      }
      return 0;
    };
  }
  const at = ofFormat(4)!;
  const doubled = font.getUint16(at + 6);
  return (code) => {
    for (let k = 0; k < doubled; k += 2) {
      if (code > font.getUint16(at + 14 + k)) continue;
      const first = font.getUint16(at + 16 + doubled + k);
      if (code < first) return 0;
      const delta = font.getUint16(at + 16 + 2 * doubled + k);
      const range = at + 16 + 3 * doubled + k;
      const reach = font.getUint16(range);
      if (reach === 0) return (code + delta) % 65536;
      const glyph = font.getUint16(range + reach + 2 * (code - first));
      return glyph === 0 ? 0 : (glyph + delta) % 65536;
    }
    return 0;
  };
}

/** A glyph without instructions, its parts numbered by `place`, padded to whole words of four bytes. */
function unhinted(glyph: Uint8Array, place: (part: number) => number): Uint8Array {
  if (glyph.length === 0) return glyph;
  const bytes = glyph.slice();
  const view = new DataView(bytes.buffer);
  const contours = view.getInt16(0);
  if (contours >= 0) {
    const count = GLYPH_HEAD + 2 * contours;
    const points = count + 2 + view.getUint16(count);
    view.setUint16(count, 0);
    return joined([bytes.subarray(0, count + 2), bytes.subarray(points)]);
  }
  let at = GLYPH_HEAD;
  for (;;) {
    const flags = view.getUint16(at);
    view.setUint16(at, flags & ~INSTRUCTED);
    view.setUint16(at + 2, place(view.getUint16(at + 2)));
    at += 4 + (flags & WORDS ? 4 : 2);
    at += flags & SCALED ? 2 : flags & SCALED_BOTH ? 4 : flags & MATRIX ? 8 : 0;
    if ((flags & MORE) === 0) return joined([bytes.subarray(0, at)]);
  }
}

const padded = (length: number): number => Math.ceil(length / 4) * 4;

/** One after the other, zeros after the last up to a whole word. */
function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(padded(parts.reduce((sum, { length }) => sum + length, 0)));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Tables, sorted by name, with directory and check sums. */
function fontFile(tables: readonly (readonly [tag: string, bytes: Uint8Array])[]): Uint8Array {
  const directory = new DataView(new ArrayBuffer(12 + 16 * tables.length));
  const power = Math.floor(Math.log2(tables.length));
  const counts = [1, 0, tables.length, 16 * 2 ** power, power, 16 * (tables.length - 2 ** power)];
  counts.forEach((value, k) => {
    directory.setUint16(2 * k, value);
  });
  let at = directory.byteLength;
  tables.forEach(([tag, bytes], k) => {
    const entry = 12 + 16 * k;
    for (let n = 0; n < 4; n++) directory.setUint8(entry + n, tag.charCodeAt(n));
    directory.setUint32(entry + 4, checkSum(bytes));
    directory.setUint32(entry + 8, at);
    directory.setUint32(entry + 12, bytes.length);
    at += padded(bytes.length);
  });
  return joined([new Uint8Array(directory.buffer), ...tables.map(([, bytes]) => joined([bytes]))]);
}

function checkSum(bytes: Uint8Array): number {
  const whole = joined([bytes]);
  const view = new DataView(whole.buffer);
  let sum = 0;
  for (let at = 0; at < whole.length; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
  return sum;
}
