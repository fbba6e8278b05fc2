/**
 * The sheet's frame against ISO 5457: how many fields of 50 mm the grid references count on each sheet (its table of numbers of
 * fields, from memory), each letter and numeral in the middle of its field and of the border, centring marks on both axes. mm.
 */
import { describe, expect, test } from 'vitest';
import { type Box, type Item, isText } from '../../../src/writing/drawing/drawing.ts';
import { frameItems } from '../../../src/writing/drawing/sheet/sheet-frame.ts';

const BORDER = 5;
const LETTERING = 3.5;

/** A sheet that stands anywhere, trimmed, with 20 mm for filing at its left and 10 mm elsewhere. */
function frameOf(width: number, height: number, name: string) {
  const sheet: Box = { left: -137, bottom: 41, right: -137 + width, top: 41 + height };
  const frame: Box = {
    left: sheet.left + 20,
    bottom: sheet.bottom + 10,
    right: sheet.right - 10,
    top: sheet.top - 10,
  };
  const items = frameItems(sheet, frame, name);
  const { grid } = items;
  const marks = grid.filter(isText).map(({ text, at: [x, y], height: tall, angle }) => {
    // `at` is the middle of the base line: the middle of the capitals stands half their height above.
    return { text, x, y: y + tall / 2, height: tall, angle };
  });
  return { sheet, frame, marks, centring: linesOf(items.frame), ticks: linesOf(grid) };
}

/** Ends of the single lines, from left or below, as texts: outlines are left out. */
const linesOf = (items: readonly Item[]): readonly string[] =>
  items
    .flatMap((item) => (isText(item) || item.closed ? [] : Object.values(item.paths)))
    .map((path) => path as unknown as Record<'origin' | 'end', number[]>)
    .map(({ origin, end }) => [origin, end].sort(rising))
    .map(lineText)
    .sort();
const rising = ([a, b]: number[], [c, d]: number[]): number => a - c || b - d;
const lineText = (ends: readonly (readonly number[])[]): string =>
  ends.map(([x, y]) => `(${x.toFixed(6)}, ${y.toFixed(6)})`).join(' to ');

describe.each([
  ['A4', 297, 210, 6, 4],
  ['A3', 420, 297, 8, 6],
  ['A2', 594, 420, 12, 8],
  ['A1', 841, 594, 16, 12],
  ['A0', 1189, 841, 24, 16],
])('%s', (name, width, height, columns, rows) => {
  const { sheet, frame, marks, centring, ticks } = frameOf(width, height, name);
  const middle = { x: (sheet.left + sheet.right) / 2, y: (sheet.bottom + sheet.top) / 2 };
  const numerals = marks.filter(({ text }) => /^\d+$/.test(text));
  const letters = marks.filter(({ text }) => /^[A-Z]$/.test(text));
  const sides = name === 'A4' ? 1 : 2;

  test(`counts ${columns} columns from the left and ${rows} rows from the top, without I and O`, () => {
    expect(numerals.length + letters.length).toBe(marks.length);
    const fromLeft = numerals.slice(0, columns).toSorted((a, b) => a.x - b.x);
    expect(fromLeft.map(({ text }) => Number(text))).toEqual(
      Array.from({ length: columns }, (_, k) => k + 1),
    );
    const fromTop = letters.slice(0, rows).toSorted((a, b) => b.y - a.y);
    expect(fromTop.map(({ text }) => text).join('')).toBe('ABCDEFGHJKLMNPQRSTUVWXYZ'.slice(0, rows));
    expect([numerals.length, letters.length]).toEqual([sides * columns, sides * rows]);
  });

  test('stands in the middle of the border beside the frame, on an A4 at its top and right only', () => {
    const above = [frame.top + BORDER / 2, ...(sides === 2 ? [frame.bottom - BORDER / 2] : [])];
    const beside = [frame.right + BORDER / 2, ...(sides === 2 ? [frame.left - BORDER / 2] : [])];
    for (const [k, { y }] of numerals.entries()) expect(y).toBeCloseTo(above[Math.floor(k / columns)], 9);
    for (const [k, { x }] of letters.entries()) expect(x).toBeCloseTo(beside[Math.floor(k / rows)], 9);
    for (const { height: tall, angle } of marks) expect([tall, angle]).toEqual([LETTERING, 0]);
  });

  test('stands in the middle of fields of 50 mm counted from the axes of the sheet', () => {
    // All but the outermost fields are whole ones.
    for (const { text, x } of numerals) {
      const field = Number(text) - columns / 2 - 0.5;
      if (Math.abs(field) < columns / 2 - 1) expect(x).toBeCloseTo(middle.x + 50 * field, 9);
    }
    for (const { text, y } of letters) {
      const field = rows / 2 - 0.5 - 'ABCDEFGHJKLMNPQRSTUVWXYZ'.indexOf(text);
      if (Math.abs(field) < rows / 2 - 1) expect(y).toBeCloseTo(middle.y + 50 * field, 9);
    }
    // The first column reaches from the frame to the first line between fields.
    const line = middle.x - 50 * (columns / 2 - 1);
    expect(numerals.find(({ text }) => text === '1')!.x).toBeCloseTo((frame.left + line) / 2, 9);
  });

  test('has a centring mark of 9 mm outward from the frame at either end of both axes of the sheet', () => {
    const upright = (from: number, to: number) =>
      lineText([
        [middle.x, from],
        [middle.x, to],
      ]);
    const level = (from: number, to: number) =>
      lineText([
        [from, middle.y],
        [to, middle.y],
      ]);
    expect(centring).toEqual(
      [
        upright(frame.bottom - 9, frame.bottom),
        upright(frame.top, frame.top + 9),
        level(frame.left - 9, frame.left),
        level(frame.right, frame.right + 9),
      ].sort(),
    );
  });

  test('is ticked across the border between all fields but at the centring marks', () => {
    const between = (count: number): readonly number[] =>
      Array.from({ length: count - 1 }, (_, k) => 50 * (k + 1 - count / 2)).filter((off) => off !== 0);
    const [below, left] = [frame.bottom - BORDER, frame.left - BORDER];
    const expected = [
      ...[frame.top, ...(sides === 2 ? [below] : [])].flatMap((y) =>
        between(columns).map((off) =>
          lineText([
            [middle.x + off, y],
            [middle.x + off, y + BORDER],
          ]),
        ),
      ),
      ...[frame.right, ...(sides === 2 ? [left] : [])].flatMap((x) =>
        between(rows).map((off) =>
          lineText([
            [x, middle.y + off],
            [x + BORDER, middle.y + off],
          ]),
        ),
      ),
    ];
    expect(ticks).toEqual(expected.sort());
  });
});
