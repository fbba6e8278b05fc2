/**
 * Text in the standard fonts Helvetica (WinAnsiEncoding) and Symbol: which character is which byte of which font, and how wide it is.
 * Source of codes and widths: the fonts' published metrics files (AFM), in thousandths of the size.
 */

interface FontRun {
  readonly font: 'H' | 'S';
  /** Hexadecimal digits, two a byte. */
  readonly bytes: string;
  /** In sizes. */
  readonly width: number;
}

/** Height of Helvetica's capitals against its size. */
export const CAPITALS = 0.718;

/** Widths of the characters from space to tilde. */
// biome-ignore format: one line a row of the font's table
const ASCII_WIDTHS = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
  556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
  1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
  667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
  333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
  556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

/** Beyond ASCII: code and width in Helvetica; what Latin 1 has at its own code, as wide as most letters, needs no row. */
const HELVETICA: Readonly<Record<string, readonly [number, number]>> = {
  Ø: [0xd8, 778],
  '°': [0xb0, 400],
  '±': [0xb1, 584],
  '×': [0xd7, 584],
  µ: [0xb5, 556],
  μ: [0xb5, 556],
  '–': [0x96, 556],
  '—': [0x97, 1000],
  '…': [0x85, 1000],
  '’': [0x92, 222],
  '‘': [0x91, 222],
  '“': [0x93, 333],
  '”': [0x94, 333],
  '\u00a0': [0x20, 278],
};
const LATIN_WIDTH = 667;

const SYMBOL: Readonly<Record<string, readonly [number, number]>> = {
  '−': [0x2d, 549],
  Δ: [0x44, 612],
  Φ: [0x46, 763],
  λ: [0x6c, 549],
  '→': [0xae, 987],
};

/** The text as runs of one font each. */
export function fontRuns(text: string): FontRun[] {
  const runs: { font: 'H' | 'S'; bytes: string; width: number }[] = [];
  for (const character of text) {
    const [font, code, width] = glyphOf(character);
    const last = runs.at(-1);
    const run = last?.font === font ? last : { font, bytes: '', width: 0 };
    if (run !== last) runs.push(run);
    run.bytes += code.toString(16).padStart(2, '0');
    run.width += width / 1000;
  }
  return runs;
}

/** In sizes. */
export const runsWidth = (runs: readonly FontRun[]): number =>
  runs.reduce((sum, { width }) => sum + width, 0);

function glyphOf(character: string): readonly ['H' | 'S', number, number] {
  const code = character.codePointAt(0)!;
  if (code >= 0x20 && code < 0x7f) return ['H', code, ASCII_WIDTHS[code - 0x20]!];
  const symbol = SYMBOL[character];
  if (symbol !== undefined) return ['S', ...symbol];
  const known = HELVETICA[character];
  if (known !== undefined) return ['H', ...known];
  if (code >= 0xa1 && code <= 0xff) return ['H', code, LATIN_WIDTH];
  return ['H', 0x3f, ASCII_WIDTHS[0x3f - 0x20]!];
}
