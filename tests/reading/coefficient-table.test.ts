/** Coefficient tables that came back: what is understood of them, and no text that throws. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readCoefficientTable } from '../../src/reading/tables/coefficient-table.ts';
import '../machine/patience.ts';

const WAVELENGTH = 632.8e-6;
const HEAD = 'patch,basis,i,j,coefficient_waves,unitRadius_mm,centreX_mm,centreY_mm';
const read = (text: string) => readCoefficientTable(text, 'table.csv', WAVELENGTH);
const onlyTerm = (text: string) => read(text).table!.blocks[0]!.terms[0]!;

describe('one number in many units:', () => {
  test.each([
    ['coefficient_waves', 2],
    ['coefficient_rad', 4 * Math.PI],
    ['coefficient_deg', 720],
    ['coefficient_nm', 2 * 632.8],
    ['coefficient_um', 2 * 0.6328],
  ])('%s', (column, value) => {
    expect(
      onlyTerm(`${HEAD.replace('coefficient_waves', column)}\na,xy,1,0,${value},5,0,0\n`).coefficient,
    ).toBeCloseTo(2, 12);
  });

  test.each([
    ['unitRadius_mm', 25.4],
    ['unitRadius_in', 1],
    ['unitRadius_um', 25400],
    ['unitDiameter_mm', 50.8],
    ['normRadius_mm', 25.4],
    ['normDiameter_in', 2],
  ])('%s', (column, value) => {
    const { table } = read(`${HEAD.replace('unitRadius_mm', column)}\na,xy,1,0,1,${value},0,0\n`);
    expect(table!.blocks[0]!.unitRadius).toBeCloseTo(25.4, 12);
  });
});

test('the last digit is worth what was written', () => {
  for (const [text, lastDigit, digits] of [
    ['1.50', 0.01, 3],
    ['-0.0040', 1e-4, 2],
    ['2.5e-3', 1e-4, 2],
    ['700', 1, 3],
    ['.5', 0.1, 1],
  ] as const) {
    const term = onlyTerm(`${HEAD}\na,xy,0,0,${text},5,0,0\n`);
    expect(term.lastDigit).toBeCloseTo(lastDigit, 15);
    expect(term.digits).toBe(digits);
  }
});

test('quotes, blanks, tabs, a byte order mark and line ends of another system', () => {
  const text = `\uFEFF${HEAD.split(',').join('\t')}\r\n"a" \t xy\t1\t0\t1.5\t5\t0\t0\r\n\r\n`;
  expect(read(text).table!.blocks[0]).toMatchObject({
    patch: 'a',
    basis: 'xy',
    unitRadius: 5,
    centre: [0, 0],
  });
});

test('a column that means nothing is passed over with a warning at its place', () => {
  const { table, findings } = read(`${HEAD},remark\na,xy,0,0,1,5,0,0,fine\n`);
  expect(table).toBeDefined();
  expect(findings).toMatchObject([{ severity: 'warning', place: { line: 1, column: HEAD.length + 2 } }]);
});

/** Where the column of the phase starts. */
const PHASE = HEAD.indexOf('coefficient') + 1;

describe('a head that cannot be used says what is wrong with it:', () => {
  test.each<[string, string, RegExp, number]>([
    ['numbers', 'a,xy,1,0,1.5,5,0,0', /there is no column for patch/, 1],
    ['numbers alone', '1,0,1.5,5,0,0,,', /the first line contains numbers, not column names/, 1],
    ['a column less', HEAD.replace(',centreY_mm', ''), /there is no column for centreY/, 1],
    [
      'a name nearly right',
      HEAD.replace('basis', 'bassis'),
      /"bassis" is not a known column; did you mean basis\?/,
      HEAD.indexOf('basis') + 1,
    ],
    ['a column twice', `${HEAD},basis`, /column "basis" repeats basis/, HEAD.length + 2],
    // Neither a temperature nor a pressure is a phase.
    ['a phase in kelvins', HEAD.replace('_waves', '_K'), /"coefficient_K" has no phase unit/, PHASE],
    ['a phase in pascals', HEAD.replace('_waves', '_Pa'), /"coefficient_Pa" has no phase unit/, PHASE],
    ['a phase without a unit', HEAD.replace('_waves', ''), /"coefficient" has no phase unit/, PHASE],
    [
      'a length in degrees',
      HEAD.replace('centreX_mm', 'centreX_deg'),
      /"centreX_deg" has no length unit/,
      HEAD.indexOf('centreX') + 1,
    ],
  ])('%s', (_, head, message, column) => {
    const { table, findings } = read(`${head}\na,xy,1,0,1.5,5,0,0\n`);
    expect(table).toBeUndefined();
    expect(findings[0].message).toMatch(message);
    expect(findings[0].place).toMatchObject({ line: 1, column });
  });
});

test('a decimal comma is refused with a word about it', () => {
  const { table, findings } = read(`${HEAD.replaceAll(',', ';')}\na;xy;0;0;1,5;5;0;0\n`);
  expect(table).toBeUndefined();
  expect(findings).toMatchObject([
    { hint: 'write a decimal point, not a comma', place: { line: 2, column: 10 } },
  ]);
});

test('no text throws, and what is refused has a place in the text', () => {
  let refused = 0;
  const piece = fc.constantFrom(
    'a',
    'xy',
    'roof',
    'zernike',
    '1',
    '-1',
    '1e999',
    '"',
    ',',
    ';',
    '\n',
    '#',
    HEAD,
    'NaN',
    '__proto__',
  );
  const text = fc.oneof(
    fc.array(piece, { maxLength: 60 }).map((pieces) => pieces.join('')),
    fc.array(piece, { maxLength: 40 }).map((pieces) => `${HEAD}\n${pieces.join(',')}`),
    fc.string({ unit: 'binary', maxLength: 200 }),
  );
  fc.assert(
    fc.property(text, (given) => {
      const { table, findings } = read(given);
      if (table !== undefined) return;
      refused++;
      expect(findings.length).toBeGreaterThan(0);
      for (const { place } of findings)
        expect(place!.line).toBeLessThanOrEqual(given.split(/\r\n?|\n/).length);
    }),
  );
  expect(refused).toBeGreaterThan(50);
});
