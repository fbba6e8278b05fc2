/**
 * What the DXF files share: documents in mm, closed polylines, and group codes and values as lines of text: fixed digits, no exponent, no -0, text in UTF-8.
 * Sources: the DXF reference's ranges of group codes and its UTF-8 from release 2007 on; `\U+XXXX` in a text, `^` as the lead-in of control
 * characters (a caret itself is `^ `), `%%` as the lead-in of special symbols in a TEXT.
 */
import { Dxfier, DxfWriter, type EntitiesManager, type LWPolyline, Units } from '@tarikjabiri/dxf';
import { visibleText } from '../../../finding/visible-text.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import { trimmed } from '../../../quantity/format.ts';

/** The picometre for lengths in mm; a bulge multiplies lengths and takes what a double has. */
const DIGITS = 9;
const BULGE_DIGITS = 15;
const BULGE = 42;

/** Bytes of one string of a DXF since release 2000. */
const LONGEST_STRING = 2049;

/** Group 70 of a LWPOLYLINE. */
const CLOSED = 1;
/** Tags that name objects which the file does not hold (a plot style, a visual style): left out. */
const DANGLING = new Set([348, 390]);
const LAYER = 8;
const LINE_WEIGHT = 370;
const PLOTTED = 290;
/** Of a filled area and of words across a drawing, after the layer: 70 % transparent, so that lines show with it before white and before black (group 440: 2 in the highest byte, opacity of 255 in the lowest). */
const TRANSPARENCY = 440;
const PALE = 0x02000000 + 77;

export function newDocument(): DxfWriter {
  const writer = new DxfWriter();
  writer.setUnits(Units.Millimeters);
  writer.setVariable('$MEASUREMENT', { 70: 1 });
  writer.setVariable('$LASTSAVEDBY', { 1: 'datumlight' });
  return writer;
}

/** A closed polyline; the bulge of the run from a vertex to the next is tan(sweep/4), 0 for a straight one. */
export const addLoop = (
  space: Pick<EntitiesManager, 'addLWPolyline'>,
  vertices: readonly { readonly point: Vec2; readonly bulge: number }[],
  layerName: string,
): LWPolyline =>
  space.addLWPolyline(
    vertices.map(({ point: [x, y], bulge }) => ({ point: { x, y }, ...(bulge === 0 ? {} : { bulge }) })),
    { layerName, flags: CLOSED },
  );

interface LayerLooks {
  /** Line weight, which the library writes as 0, in hundredths of a mm. */
  readonly weightOf: (layer: string) => number | undefined;
  /** A layer that is shown and not plotted. */
  readonly unplotted?: string;
  /** A layer whose texts let what is under them be seen. */
  readonly seenThrough?: string;
}

/** The whole document. */
export function documentText(
  writer: DxfWriter,
  { weightOf, unplotted, seenThrough }: LayerLooks = { weightOf: () => undefined },
): string {
  writer.stringify(); // sets $HANDSEED and the view
  const all = new Dxfier();
  writer.document.dxfy(all);
  const tags: (string | number)[] = [];
  let record = '';
  let name = '';
  for (let i = 0; i < all.lines.length; i += 2) {
    const [code, value] = [all.lines[i]!, all.lines[i + 1]!];
    if (code === 0) record = String(value);
    if (code === 2) name = String(value);
    if (DANGLING.has(Number(code))) continue;
    const weight = code === LINE_WEIGHT && record === 'LAYER' ? weightOf(name) : undefined;
    if (code === LINE_WEIGHT && record === 'LAYER' && name === unplotted) tags.push(PLOTTED, 0);
    tags.push(code, weight ?? value);
    if (Number(code) === LAYER && (record === 'HATCH' || (record === 'TEXT' && value === seenThrough)))
      tags.push(TRANSPARENCY, PALE);
  }
  return tagLines(tags);
}

/** Alternating codes and values, each on its line. A `\n` ends the last. */
function tagLines(tags: readonly (string | number)[]): string {
  const lines: string[] = [];
  for (let i = 0; i + 1 < tags.length; i += 2) {
    const [code, value] = [Number(tags[i]), tags[i + 1]!];
    lines.push(String(code), typeof value === 'number' ? numberText(code, value) : value);
  }
  return `${lines.join('\n')}\n`;
}

const numberText = (code: number, value: number): string =>
  isReal(code) ? trimmed(value, code === BULGE ? BULGE_DIGITS : DIGITS) : trimmed(value, 0);

const isReal = (code: number): boolean =>
  (code >= 10 && code <= 59) ||
  (code >= 110 && code <= 149) ||
  (code >= 210 && code <= 239) ||
  (code >= 1010 && code <= 1059);

/**
 * One line of text that every reader shows as it is meant: escapes and special symbols of DXF in the text itself lose
 * their meaning (`%%d` would become a degree sign; its signs are parted by a space). The program's own signs become DXF's
 * symbols or look-alikes in ASCII, which every font has; letters of any script stay as they are. What goes beyond
 * `longest` bytes is cut between characters.
 */
export function dxfText(text: string, longest: number = LONGEST_STRING): string {
  let written = '';
  let bytes = 0;
  for (const character of visibleText(text)) {
    const next = dxfCharacter(character);
    const parted = written.endsWith('%') && next.startsWith('%') ? ` ${next}` : next;
    bytes += UTF_8.encode(parted).length;
    if (bytes > longest) break;
    written += parted;
  }
  return written;
}

/** In the room they had. */
const SYMBOLS: Readonly<Record<string, string>> = {
  Ø: '%%c',
  '°': '%%d',
  '±': '%%p',
  '×': 'x',
  '–': '-',
  '−': '-',
  '‘': "'",
  '’': "'",
  '“': '"',
  '”': '"',
  µ: 'u',
  μ: 'u',
};

function dxfCharacter(character: string): string {
  const code = character.codePointAt(0)!;
  if (character === '^') return '^ ';
  if (character === '\\') return BACKSLASH;
  if (code < 0x20 || (code >= 0x7f && code < 0xa0)) return '\ufffd';
  return SYMBOLS[character] ?? character;
}

/** Not the lead-in of an escape. */
const BACKSLASH = '\\U+005C';
const UTF_8 = new TextEncoder();
