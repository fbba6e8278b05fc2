/**
 * Cells of CSV and Markdown that a spreadsheet must not take for a formula. What starts one: `=`, `+`, `-`, `@`, tab, carriage return
 * (OWASP, "CSV Injection", from memory). Numbers stay numbers. Fields are read back by csv-parse, which knows nothing of the program.
 */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { csvField, inertCell } from '../../src/writing/csv.ts';

test.each([
  ['north-1', 'north-1'],
  ['a,b', '"a,b"'],
  ['say "x"', '"say ""x"""'],
  ['two\nlines', 'two␊lines'],
  ['=1+2', "'=1+2"],
  ['+cmd', "'+cmd"],
  ['-x', "'-x"],
  ['@SUM(A1)', "'@SUM(A1)"],
  [' =1', " '=1"],
  ['\t=1', " '=1"],
  ['\r=1', '␍=1'],
  ['a;=1', "a;'=1"],
  ['＝1+2', "'＝1+2"],
  ['=1,"x"', '"\'=1,""x"""'],
  ["-1+cmd|' /C calc'!A0", "'-1+cmd|' /C calc'!A0"],
  ['-2+3', "'-2+3"],
  ['-3.2', '-3.2'],
  ['+0.5', '+0.5'],
  ['-1.5e-7', '-1.5e-7'],
  ['+0.5 µm', '+0.5 µm'],
  ['-.5', '-.5'],
  ['', ''],
  ['a\u202eb', 'a\ufffdb'],
])('csvField(%j) is %j', (text, field) => expect(csvField(text)).toBe(field));

test('any text is one field on one line, and starts no formula; a number is the same text', () => {
  const piece = fc.constantFrom(
    '=',
    '+',
    '-',
    '@',
    '\t',
    '\r',
    '\n',
    ' ',
    ',',
    ';',
    '"',
    "'",
    'a',
    '1',
    '\u202e',
    '\0',
    '＝',
  );
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
      const line = `${csvField(pieces.join(''))},end\n`;
      const [cells, ...more] = parse(line) as string[][];
      expect([more.length, cells!.length, cells![1]]).toEqual([0, 2, 'end']);
      for (const cell of cells![0]!.split(';'))
        if (!/^[+-]\d+( a)?$/.test(cell)) expect(cell).not.toMatch(/^ *[=+\-@\t\r＝]/);
    }),
  );
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      expect(inertCell(String(value))).toBe(String(value));
    }),
  );
});
