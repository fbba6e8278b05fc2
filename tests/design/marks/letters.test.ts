/**
 * The letters on the glass as dots, read back from their rectangles: five wide and seven high, drawn for this program. A form is sound where
 * no two dots meet at a corner alone (a width of nothing), and tells its letter where no other has the same dots.
 */
import { describe, expect, test } from 'vitest';
import { dotsWide, inCapitals, textPolygons, unwritable } from '../../../src/design/marks/letters.ts';

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-./_:'];

/** Rows from the top, `#` where the middle of a dot lies in a rectangle; how often each dot is covered, at the most. */
function rasterOf(
  text: string,
  mirrored = false,
): { readonly rows: readonly string[]; readonly most: number } {
  const boxes = textPolygons(text, [0, 0], 1, mirrored);
  let most = 0;
  const rows = [6, 5, 4, 3, 2, 1, 0].map((row) =>
    Array.from({ length: dotsWide(text) }, (_, column) => {
      const [x, y] = [column + 0.5, row + 0.5];
      const times = boxes.filter(([[l, b], , [r, t]]) => l < x && x < r && b < y && y < t).length;
      most = Math.max(most, times);
      return times > 0 ? '#' : '.';
    }).join(''),
  );
  return { rows, most };
}

describe.each(LETTERS)('the letter %s', (letter) => {
  const { rows, most } = rasterOf(letter);
  test('has dots, in rectangles that do not overlap', () => {
    expect(rows.join('')).toContain('#');
    expect(most).toBe(1);
  });
  test('has no two dots that meet at a corner alone', () => {
    const pinched = rows
      .slice(1)
      .flatMap((row, k) => [0, 1, 2, 3].map((at) => rows[k]!.slice(at, at + 2) + row.slice(at, at + 2)))
      .filter((square) => square === '#..#' || square === '.##.');
    expect(pinched).toEqual([]);
  });
});

test('no two letters have the same dots', () => {
  expect(new Set(LETTERS.map((letter) => rasterOf(letter).rows.join())).size).toBe(LETTERS.length);
});

test('a text is set as it looks', () => {
  expect(rasterOf('F-1').rows).toEqual([
    '#####.........#..',
    '#............##..',
    '#.............#..',
    '####...###....#..',
    '#.............#..',
    '#.............#..',
    '#............###.',
  ]);
});

test('a mirrored text takes the same place, its dots in reverse', () => {
  const turned = rasterOf('HT-0417').rows.map((row) => [...row].reverse().join(''));
  expect(rasterOf('HT-0417', true).rows).toEqual(turned);
});

test('a text is brought to capitals; what has no letter is named', () => {
  expect(inCapitals('  ht-04é  b ')).toBe('HT-04E B');
  expect(unwritable('A&B Ω&')).toEqual(['&', 'Ω']);
  expect(unwritable('constructor'.toUpperCase())).toEqual([]);
});
