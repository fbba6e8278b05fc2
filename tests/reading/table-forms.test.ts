/**
 * The one reader of tables: the same two points, written in every form that a spreadsheet, an editor or a tracker's export gives them, are the
 * same two points; what cannot be told apart is refused with its line and column. Forms by RFC 4180 and by common practice.
 */
import { describe, expect, it, test } from 'vitest';
import { NumericRows } from '../../src/reading/tables/numeric-table.ts';
import { TableFaults } from '../../src/reading/tables/table-faults.ts';

const WANTED = [
  { stem: 'point', is: 'text' },
  { stem: 'x', is: 'length' },
  { stem: 'angle', is: 'angle' },
] as const;

/** In pieces of so many characters. */
function read(text: string, piece = 7, most = 100) {
  const faults = new TableFaults('t.csv');
  const table = new NumericRows(() => WANTED, most, faults);
  const rows = [];
  for (let at = 0; at < text.length; at += piece) rows.push(...table.push(text.slice(at, at + piece)));
  rows.push(...table.end());
  const points = rows.map(({ row, values }) => [table.columns!.text(row, 0), values[1], values[2]]);
  return { points, faults: faults.closed() };
}

const PLAIN = 'point,x_mm,angle_deg\nnorth,1.5,-30\nsouth,-2e3,0.25\n';
const SAME = [
  ['north', 1.5, -30],
  ['south', -2000, 0.25],
];

describe('the same table', () => {
  it.each<[string, string]>([
    ['as it is', PLAIN],
    ['without a line end at its end', PLAIN.trimEnd()],
    ['with semicolons', PLAIN.replaceAll(',', ';')],
    ['with tabs', PLAIN.replaceAll(',', '\t')],
    ['with CRLF', PLAIN.replaceAll('\n', '\r\n')],
    ['with bare CR', PLAIN.replaceAll('\n', '\r')],
    ['with a byte-order mark', `\uFEFF${PLAIN}`],
    [
      'with comments and empty lines',
      `# mine\n\n${PLAIN.replace('\nsouth', '\n# between\n \nsouth')}"# end"\n`,
    ],
    ['with quotes', 'point,"x_mm",angle_deg\n"north","1.5",-30\n"south",-2e3,"0.25"\n'],
    ['with blanks around the fields', 'point , x_mm ,angle_deg\n north, 1.5 , -30\nsouth,-2e3 ,0.25\n'],
    ['with its columns in another order', 'angle_deg,point,x_mm\n-30,north,1.5\n0.25,south,-2e3\n'],
    ['with other units', 'point,x_m,angle_arcmin\nnorth,0.0015,-1800\nsouth,-2,15\n'],
    ['with units in brackets', 'point,x [um],angle (deg)\nnorth,1500,-30\nsouth,-2e6,0.25\n'],
    ['with a minus of print', PLAIN.replaceAll('-', '\u2212')],
  ])('%s', (_, text) => {
    for (const piece of [1, 7, text.length]) {
      const { points, faults } = read(text, piece);
      expect(faults).toEqual([]);
      points.forEach((point, k) => {
        expect(point[0]).toBe(SAME[k]![0]);
        expect(point[1]).toBeCloseTo(SAME[k]![1] as number, 9);
        expect(point[2]).toBeCloseTo(SAME[k]![2] as number, 12);
      });
      expect(points.length).toBe(2);
    }
  });
});

describe('is refused, with the place and a way out', () => {
  it.each<[string, string, string, RegExp]>([
    [
      'a decimal comma among semicolons',
      'point;x_mm;angle_deg\na;1,5;0\n',
      '2:3',
      /decimal point, not a comma/,
    ],
    [
      'decimal commas among commas',
      'point,x_mm,angle_deg\na,1,5,0,5\n',
      '2:1',
      /5 fields .*3 columns.*decimal points/,
    ],
    ['two separators in the head', 'point,x_mm;angle_deg\n', '1:1', /commas and semicolons/],
    ['a unit of something else', 'point,x_deg,angle_deg\na,1,2\n', '1:7', /no unit of length/],
    ['no unit', 'point,x,angle_deg\na,1,2\n', '1:7', /no unit of length/],
    ['a column twice', 'point,x_mm,x_um,angle_deg\na,1,2,3\n', '1:12', /x appears twice/],
    ['an unknown column', 'point,x_mm,angle_deg,z\na,1,2,3\n', '1:22', /unknown column "z"/],
    ['a missing column', 'point,x_mm\na,1\n', '1:1', /angle_deg is missing/],
    ['an empty number', 'point,x_mm,angle_deg\na,,2\n', '2:3', /"" is not a valid number for x_mm/],
    ['an empty name', 'point,x_mm,angle_deg\n,1,2\n', '2:1', /point is empty/],
    ['quotes left open', 'point,x_mm,angle_deg\n"a,1,2\nb,1,2\n', '2:1', /close the quotes/],
    ['a word', 'point,x_mm,angle_deg\na,one,2\n', '2:3', /"one" is not a valid number/],
    ['infinity', 'point,x_mm,angle_deg\na,1e400,2\n', '2:3', /not a valid number/],
    ['numbers for a head', '1,2,3\n', '1:1', /numbers, not column names/],
    ['a head alone', 'point,x_mm,angle_deg\n', '1:1', /no rows/],
    ['nothing', '', '1:1', /empty/],
    ['comments alone', '# a\n# b\n', '1:1', /empty/],
  ])('%s', (_, text, place, words) => {
    for (const piece of [1, text.length || 1]) {
      const [first] = read(text, piece).faults;
      expect(`${first!.place!.line}:${first!.place!.column}`).toBe(place);
      expect(`${first!.message}; ${first!.hint}`).toMatch(words);
    }
  });
});

test('every fault is told, a hundred of them whole and the rest by their number', () => {
  const { faults } = read(`point,x_mm,angle_deg\n${'a,b,c\n'.repeat(3000)}`, 1000, 10_000);
  expect(faults.length).toBe(101);
  expect(faults.at(-1)!.message).toContain(`${6000 - 100} more`);
});

test('a table beyond its limit is left there: nothing of it is read, and it is told first', () => {
  const { points, faults } = read(`point,x_mm,angle_deg\n${'a,1,2\n'.repeat(50)}`, 5, 20);
  expect(points.length).toBe(20);
  expect(faults.map(({ rule, place }) => [rule, place!.line])).toEqual([['too-many', 22]]);
});

test('a line without an end is no table', () => {
  const { faults } = read(`point,x_mm,angle_deg\n${'a'.repeat(300_000)}`, 1000);
  expect(faults.map(({ message }) => message)).toEqual(['has more than 100000 characters']);
});
