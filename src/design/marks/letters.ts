/**
 * Letters for the glass: capitals, digits and a few signs on a grid of five dots by seven, drawn for this program. Dots that belong
 * together share a side and none meet at a corner alone, so that every stroke is a dot wide or more and every space too.
 */
import type { Vec2 } from '../../geometry/vector.ts';

/** Rows from the top down. */
const LETTERS: Readonly<Record<string, string>> = {
  A: '.###. ##.## #...# #...# ##### #...# #...#',
  B: '####. #..## #..## ####. #..## #..## ####.',
  C: '.#### ##... #.... #.... #.... ##... .####',
  D: '####. #..## #...# #...# #...# #..## ####.',
  E: '##### #.... #.... ####. #.... #.... #####',
  F: '##### #.... #.... ####. #.... #.... #....',
  G: '.#### ##... #.... #.### #...# ##..# .####',
  H: '#...# #...# #...# ##### #...# #...# #...#',
  I: '.###. ..#.. ..#.. ..#.. ..#.. ..#.. .###.',
  J: '....# ....# ....# ....# #...# ##.## .###.',
  K: '#...# #..## #.##. ###.. #.##. #..## #...#',
  L: '#.... #.... #.... #.... #.... #.... #####',
  M: '#...# ##.## ##### #.#.# #...# #...# #...#',
  N: '#...# ##..# ###.# #.#.# #.### #..## #...#',
  O: '.###. ##.## #...# #...# #...# ##.## .###.',
  P: '####. #..## #...# #..## ####. #.... #....',
  Q: '.###. ##.## #...# #...# ##.## .###. ...##',
  R: '####. #..## #...# #..## ####. #.##. #..##',
  S: '.#### ##... ##... .###. ...## ...## ####.',
  T: '##### ..#.. ..#.. ..#.. ..#.. ..#.. ..#..',
  U: '#...# #...# #...# #...# #...# ##.## .###.',
  V: '#...# #...# #...# ##.## .#.#. .###. ..#..',
  W: '#...# #...# #...# #.#.# ##### ##.## #...#',
  X: '#...# ##.## .###. ..#.. .###. ##.## #...#',
  Y: '#...# ##.## .###. ..#.. ..#.. ..#.. ..#..',
  Z: '##### ...## ..##. .##.. ##... #.... #####',
  '0': '.###. ##.## #...# #.#.# #...# ##.## .###.',
  '1': '..#.. .##.. ..#.. ..#.. ..#.. ..#.. .###.',
  '2': '.###. ##.## ...## ..##. .##.. ##... #####',
  '3': '####. ...## ...## .###. ...## ...## ####.',
  '4': '#..#. #..#. #..#. ##### ...#. ...#. ...#.',
  '5': '##### #.... ####. ...## ....# #..## ####.',
  '6': '.#### ##... #.... ##### #...# #...# #####',
  '7': '##### ....# ...## ...#. ..##. ..#.. ..#..',
  '8': '.###. .#.#. .#.#. ##### #...# #...# #####',
  '9': '##### #...# #...# ##### ....# ...## ####.',
  '-': '..... ..... ..... .###. ..... ..... .....',
  '.': '..... ..... ..... ..... ..... ..... ..#..',
  '/': '....# ...## ...#. ..##. .##.. .#... ##...',
  _: '..... ..... ..... ..... ..... ..... #####',
  ':': '..... ..... ..#.. ..... ..#.. ..... .....',
  ' ': '..... ..... ..... ..... ..... ..... .....',
};

/** Dots of a letter, and from one letter to the next. */
const WIDE = 5;
export const DOTS_HIGH = 7;
const ADVANCE = 6;

/** As these letters write a text: capitals, marks of letters dropped. */
export const inCapitals = (text: string): string =>
  text.normalize('NFKD').replace(/\p{M}/gu, '').toUpperCase().trim().replace(/\s+/gu, ' ');

/** What of a text in capitals has no letter here. */
export const unwritable = (text: string): readonly string[] =>
  [...new Set(text)].filter((letter) => !Object.hasOwn(LETTERS, letter));

/** Width of a text in dots. */
export const dotsWide = (text: string): number => Math.max(0, ADVANCE * text.length - 1);

/** Left, bottom, right and top, in dots from the bottom left corner of the text. */
type DotBox = readonly [number, number, number, number];

/** The dots of a text as boxes that abut and never overlap; letters without a form are left out. */
function dotBoxes(text: string): readonly DotBox[] {
  return [...text].flatMap((letter, k) => {
    const open = new Map<string, number>();
    const boxes: DotBox[] = [];
    // Runs of one row, joined to the same run of the rows above. A row of blanks ends what is open.
    const rows = [...(LETTERS[letter] ?? '').split(' '), '.'.repeat(WIDE)];
    for (const [row, dots] of rows.entries()) {
      const runs = new Set(
        [...dots.matchAll(/#+/g)].map((run) => `${run.index} ${run.index + run[0].length}`),
      );
      for (const [run, from] of open) {
        if (runs.has(run)) continue;
        const [left, right] = run.split(' ').map(Number) as [number, number];
        boxes.push([ADVANCE * k + left, DOTS_HIGH - row, ADVANCE * k + right, DOTS_HIGH - from]);
        open.delete(run);
      }
      for (const run of runs) if (!open.has(run)) open.set(run, row);
    }
    return boxes;
  });
}

/** A text of dots so wide, its bottom left corner at `corner`, as rectangles; mirrored: as read from behind, in the same place. mm. */
export function textPolygons(
  text: string,
  [x, y]: Vec2,
  dot: number,
  mirrored: boolean,
): readonly (readonly Vec2[])[] {
  const wide = dotsWide(text);
  return dotBoxes(text).map(([left, bottom, right, top]) => {
    const [from, to] = mirrored ? [wide - right, wide - left] : [left, right];
    return rectangle(x + from * dot, y + bottom * dot, x + to * dot, y + top * dot);
  });
}

/** Counterclockwise. */
export const rectangle = (left: number, bottom: number, right: number, top: number): readonly Vec2[] => [
  [left, bottom],
  [right, bottom],
  [right, top],
  [left, top],
];
