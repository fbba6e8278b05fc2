/**
 * The sheet's frame against ISO 5457: how many fields of 50 mm the grid references count on each sheet (its table of numbers of
 * fields, from memory), each letter and numeral in the middle of its field and of the border, centring marks on both axes. mm.
 */
import { describe, expect, test } from 'vitest';
import { type Box, isText } from '../../../src/writing/drawing/drawing.ts';
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
  const { grid } = frameItems(sheet, frame, name);
  const marks = grid.filter(isText).map(({ text, at: [x, y], height: tall, angle }) => {
    // `at` is the middle of the base line: the middle of the capitals stands half their height above.
    return { text, x, y: y + tall / 2, height: tall, angle };
  });
  return { sheet, frame, marks };
}

describe.each([
  ['A4', 297, 210, 6, 4],
  ['A3', 420, 297, 8, 6],
  ['A2', 594, 420, 12, 8],
  ['A1', 841, 594, 16, 12],
  ['A0', 1189, 841, 24, 16],
])('%s', (name, width, height, columns, rows) => {
  const { sheet, frame, marks } = frameOf(width, height, name);
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
    const middle = { x: (sheet.left + sheet.right) / 2, y: (sheet.bottom + sheet.top) / 2 };
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
});
