/** Which of the scenario's own texts layout.pdf cannot print whole: its font has many scripts, not all. */
import type { Finding } from '../../../finding/finding.ts';
import type { DrawingWish } from '../../../scenario/drawing-wish.ts';
import { drawable } from '../lettering.ts';
import { trueTypeOf, unprintable } from './pdf-fonts.ts';

interface Texts {
  readonly title: string;
  readonly drawing?: DrawingWish | undefined;
}

/** So many letters are named. */
const MOST_NAMED = 12;

/** One warning a text; ids are of letters that every font has. `font`: the TrueType font's bytes. */
export function letterFindings({ title, drawing }: Texts, font: Uint8Array): Finding[] {
  const texts = [
    [['title'], title] as const,
    ...Object.entries(drawing ?? {}).map(([key, value]) => [['drawing', key], value] as const),
  ];
  return texts.flatMap(([path, text]) => {
    // the font is not read for what needs none
    if (typeof text !== 'string' || /^[\x20-\x7e]*$/.test(text)) return [];
    const letters = unprintable(trueTypeOf(font), drawable(text));
    if (letters.length === 0) return [];
    const more = letters.length > MOST_NAMED ? ` and ${letters.length - MOST_NAMED} more` : '';
    const named = letters
      .slice(0, MOST_NAMED)
      .map(
        (letter) => `\`${letter}\` (U+${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')})`,
      );
    return {
      severity: 'warning',
      rule: 'unprintable-letters',
      where: path.join('.'),
      message: `layout.pdf cannot print ${named.join(', ')}${more}: each shows as \ufffd there`,
      hint: 'use other letters, or print layout.svg, in which the reader’s own fonts are used',
      path,
    };
  });
}
