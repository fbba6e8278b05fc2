/**
 * Lettering: how text from a scenario is made fit for a drawing, and how much room it needs at most.
 * Heights are those of capitals, mm, from the series of ISO 3098. No font's true widths are known here: the room reserved
 * is that of a wide sans serif (advance widths as multiples of the height of capitals), so that narrower fonts fit as well.
 */
import { withoutMarks } from '../../finding/visible-text.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { boxOf } from './boxes.ts';
import type { Align, Box, Text } from './drawing.ts';

/** ISO 3098-1, nominal sizes, mm: each √2 times the one before, so that a sheet reduced by one size keeps the series. */
export const LETTERING_HEIGHTS = [2.5, 3.5, 5, 7, 10, 14, 20] as const;

/** The one height used on a sheet, but for its grid references, and what goes with it. */
export interface Lettering {
  readonly text: number;
  /** ISO 128: a tenth of the text's height, and twice that. */
  readonly narrowLine: number;
}

/** The lettering of a sheet whose plain text has the height LETTERING_HEIGHTS[step], 0 ≤ step ≤ 4. */
export function letteringAt(step: number): Lettering {
  const text = LETTERING_HEIGHTS[step]!;
  return { text, narrowLine: text / 10 };
}

/** Most that one text on the drawing may hold; the report has it whole. */
const LONGEST_TEXT = 160;

/**
 * Text as a drawing can show it: line breaks, tabs and control characters become one space, marks that turn the writing
 * direction are dropped, half surrogates become U+FFFD, and what is longer than `longest` ends in an ellipsis.
 */
export function drawable(text: string, longest: number = LONGEST_TEXT): string {
  const plain = withoutMarks(text)
    .replace(/\p{Surrogate}/gu, '\ufffd')
    .replace(/[\p{Cc}\u2028\u2029\s]+/gu, ' ')
    .replace(/[\ufffe\uffff]/gu, '\ufffd')
    .trim();
  const characters = [...plain];
  return characters.length <= longest
    ? plain
    : `${characters
        .slice(0, longest - 1)
        .join('')
        .trimEnd()}…`;
}

/** The most room that `text` takes in a line of the given height, mm. */
export const roomFor = (text: string, height: number): number => advanced(0, text) * height;

/** The advance of what has come to `units` already and then `text`, in heights. */
function advanced(units: number, text: string): number {
  let sum = units;
  for (const character of text) sum += advance(character);
  return sum;
}

/** `text` broken at spaces, or inside words that are too long, so that every line has room in `width`, mm, and in a drawing's text. */
export function wrapped(text: string, height: number, width: number): string[] {
  if (text.length <= LONGEST_TEXT && roomFor(text, height) <= width) return [text];
  const lines: string[] = [];
  let line = '';
  let units = 0;
  for (const word of text.split(' ').flatMap((part) => brokenWord(part, height, width))) {
    const longer = line === '' ? 0 : advanced(units, ` ${word}`);
    const fits = longer * height <= width && line.length + 1 + word.length <= LONGEST_TEXT;
    if (line !== '' && fits) {
      line += ` ${word}`;
      units = longer;
    } else {
      if (line !== '') lines.push(line);
      line = word;
      units = advanced(0, word);
    }
  }
  return [...lines, line];
}

function brokenWord(word: string, height: number, width: number): string[] {
  const parts: string[] = [];
  let part = '';
  let units = 0;
  for (const character of word) {
    units += advance(character);
    if (part !== '' && units * height > width) {
      parts.push(part);
      part = '';
      units = advance(character);
    }
    part += character;
  }
  return [...parts, part];
}

const advances = new Map<string, number>();

function advance(character: string): number {
  const known = advances.get(character) ?? advanceOf(character);
  if (advances.size < MOST_REMEMBERED) advances.set(character, known);
  return known;
}

const MOST_REMEMBERED = 1024;

function advanceOf(character: string): number {
  if (/[il.,:;'|!()[\]j ]/u.test(character)) return 0.55;
  if (/[ftr/\\\-"]/u.test(character)) return 0.62;
  if (/[mwMW@%—…]/u.test(character)) return 1.38;
  if (/[A-Z&<>=+~±×ØΦλ→]/u.test(character)) return 1.08;
  if (/[!-~°·–]/u.test(character)) return 0.88;
  return 1.5;
}

/** Room below the base line and above the capitals, in heights of capitals. */
const DESCENT = 0.35;
const ASCENT = 1.15;

/** A text whose base line passes through `at`, turned about it by `angle`, radians. */
export const textAt = (text: string, at: Vec2, height: number, align: Align = 'left', angle = 0): Text => ({
  text,
  at,
  height,
  align,
  angle,
});

/** A text centred on a point in both directions. */
export const centredText = (text: string, [x, y]: Vec2, height: number): Text =>
  textAt(text, [x, y - height / 2], height, 'centre');

/** The box around all the room reserved for the text. */
export function textBox({ text, at: [x, y], height, align, angle }: Text): Box {
  const room = roomFor(text, height);
  const before = { left: 0, centre: room / 2, right: room }[align];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return boxOf(
    [-before, room - before].flatMap((along) =>
      [-DESCENT * height, ASCENT * height].map(
        (up): Vec2 => [x + along * c - up * s, y + along * s + up * c],
      ),
    ),
  );
}
