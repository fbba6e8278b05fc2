import fc from 'fast-check';
import { unit } from 'mathjs';
import { describe, expect, test } from 'vitest';
import type { Dimension } from '../../src/quantity/dimension.ts';
import { evaluateQuantity } from '../../src/quantity/evaluate.ts';
import { resolveParameters } from '../../src/quantity/parameters.ts';
import { commonUnit, commonUnitNames, unitNamed } from '../../src/quantity/unit.ts';

const { scope, problems } = resolveParameters(
  new Map<string, string | number>([
    ['rim', '120 mm'],
    ['smr', '1.5 in'],
    ['tilt', '2 deg'],
    ['n', 3],
    ['half', 'rim/2'],
    ['room', '22 degC'],
    ['rod', '5 mm'],
    ['broken', '1 +'],
    ['downstream', 'broken * 2'],
  ]),
);

const valueIn = (given: string | number, expects: Dimension): number => {
  const { value, problem } = evaluateQuantity(given, expects, scope);
  if (value === undefined) throw new Error(`${given}: ${problem?.message}`);
  return value;
};

describe('what a text or number comes to, in mm, rad, °C, Pa, W', () => {
  const degree = Math.PI / 180;
  test.each<[string | number, Dimension, number]>([
    [12.5, 'length', 12.5],
    ['12.5', 'length', 12.5],
    ['632.8 nm', 'length', 632.8e-6],
    ['632.8nm', 'length', 632.8e-6],
    ['1.5 in', 'length', 38.1],
    ['1.5 inch', 'length', 38.1],
    ['  1.5 in  ', 'length', 38.1],
    ['-0.0004 in', 'length', -0.01016],
    ['2 mil', 'length', 0.0508],
    ['10 um', 'length', 0.01],
    ['10 \u00b5m', 'length', 0.01],
    ['10 \u03bcm', 'length', 0.01],
    ['10 \u03bcm + 0 mm', 'length', 0.01],
    ['1e3 mm', 'length', 1000],
    ['1e3mm', 'length', 1000],
    ['3 millimetres', 'length', 3],
    ['3 yard', 'length', 2743.2],
    ['1 chain', 'length', 20116.8],
    ['rim', 'length', 120],
    ['half', 'length', 60],
    ['rim + smr/2', 'length', 139.05],
    ['rim - 1.5 inch', 'length', 81.9],
    ['-(rim)', 'length', -120],
    ['n mm', 'length', 3],
    ['20 * mm', 'length', 20],
    ['1/2 inch', 'length', 12.7],
    ['sqrt((3 mm)^2 + (4 mm)^2)', 'length', 5],
    ['hypot(3 mm, 4 mm)', 'length', 5],
    ['min(rim, smr, 5 mm)', 'length', 5],
    ['max(rim, smr)', 'length', 120],
    ['abs(smr - rim)', 'length', 81.9],
    // What is made of bare numbers alone stays bare: mm where a length is expected, degrees where an angle is.
    ['min(3, 4)', 'length', 3],
    ['max(3, -4)', 'angle', 3 * degree],
    ['hypot(3, 4)', 'length', 5],
    ['rim * sin(30 deg)', 'length', 60],
    ['rim * rim / (2 * rim)', 'length', 60],
    ['2^2^3', 'number', 256],
    ['-2^2', 'number', -4],
    ['2 * pi', 'number', 2 * Math.PI],
    ['rim / smr', 'number', 120 / 38.1],
    ['50 %', 'number', 0.5],
    [90, 'angle', 90 * degree],
    ['90 deg', 'angle', 90 * degree],
    ['90\u00b0', 'angle', 90 * degree],
    ['20 urad', 'angle', 20e-6],
    ['20 \u00b5rad', 'angle', 20e-6],
    ['30 arcmin', 'angle', 0.5 * degree],
    ['36 arcsec', 'angle', 0.01 * degree],
    ['atan2(1 mm, 1 mm)', 'angle', 45 * degree],
    // An angle of its own, not a bare number of degrees.
    ['atan2(1, 1)', 'angle', 45 * degree],
    ['atan2(1, 1) + 1 deg', 'angle', 46 * degree],
    ['atan(0.5) + asin(0.5) - acos(0.5)', 'angle', Math.atan(0.5) - 30 * degree],
    [20, 'temperature', 20],
    ['20 degC', 'temperature', 20],
    ['20 \u00b0C', 'temperature', 20],
    ['293.15 K', 'temperature', 20],
    ['68 degF', 'temperature', 20],
    ['room + 2 K', 'temperature', 24],
    ['1013.25 hPa', 'pressure', 101_325],
    ['1 atm', 'pressure', 101_325],
    ['760 torr', 'pressure', 101_325],
    ['1013.25 mbar', 'pressure', 101_325],
    ['101.325 kPa', 'pressure', 101_325],
    ['1 mW', 'power', 1e-3],
  ])('%j as %s is %d', (given, expects, value) => {
    expect(valueIn(given, expects)).toBeCloseTo(value, 12 - Math.ceil(Math.log10(Math.abs(value) + 1)));
  });

  test.each([
    ['1.5 in', 38.1],
    ['632.8 nm', 632.8e-6],
    ['0.1 um', 1e-4],
    ['0.5 in', 12.7],
    ['22.225 mm', 22.225],
  ])('%s is exact to the last bit', (given, value) => {
    expect(valueIn(given, 'length')).toBe(value);
  });

  test('zero has no sign', () => {
    for (const given of [-0, '-0', '-0 mm', '0 * -1', 'rim - rim']) expect(valueIn(given, 'length')).toBe(0);
  });
});

describe('what is refused, with code, words of the message and of the hint', () => {
  test.each<[string | number, Dimension, string, RegExp, RegExp]>([
    ['x/2 mm', 'length', 'bad-expression', /ambiguous/, /\(x\/2\) \* 1 mm/],
    ['rim/2 mm', 'length', 'bad-expression', /ambiguous/, /rim\/\(2 mm\)/],
    ['rim + 1.5 in', 'length', 'bad-expression', /`in` is an operator/, /`rim \+ 1.5 inch`/],
    ['1.5in+1mm', 'length', 'bad-expression', /`in` is an operator/, /1.5inch\+1mm/],
    ['rim in', 'length', 'bad-expression', /`in` is an operator/, /inch/],
    ['5 mm + 3', 'length', 'unit-mismatch', /`5 mm` is a length \(5 mm\), `3` a plain number/, /`3 mm`/],
    [
      'rim + tilt',
      'length',
      'unit-mismatch',
      /`rim` is a length \(120 mm\), `tilt` an angle \(2 deg\)/,
      /same/,
    ],
    ['tilt', 'length', 'unit-mismatch', /expected a length, got `tilt`, an angle \(2 deg\)/, /12.5 mm/],
    ['rim', 'number', 'unit-mismatch', /expected a plain number/, /without a unit/],
    ['rim*rim', 'length', 'unit-mismatch', /length\^2/, /a length such as/],
    ['rim/smr', 'length', 'unit-mismatch', /expected a length/, /multiply by a unit/],
    ['1 mm/rim', 'angle', 'unit-mismatch', /expected an angle/, /1 rad/],
    ['rim mm', 'length', 'unit-mismatch', /already/, /leave out `mm`/],
    ['sin(30)', 'number', 'unit-mismatch', /an angle was expected/, /30 deg/],
    ['atan(rim)', 'angle', 'unit-mismatch', /a plain number was expected/, /divide/],
    ['hypot(rim, tilt)', 'length', 'unit-mismatch', /`tilt`, an angle/, /same/],
    ['2^rim', 'number', 'unit-mismatch', /exponent/, /plain number/],
    ['20 degC + 5 degC', 'temperature', 'unit-mismatch', /offset zero/, /K/],
    ['2 * room', 'temperature', 'unit-mismatch', /temperature in °C/, /kelvin/],
    ['150 milimeter', 'length', 'unknown-unit', /`milimeter`/, /millimeter/],
    ['2 MM', 'length', 'unknown-unit', /`MM`/, /`mm`/],
    ['2 kg', 'length', 'unknown-unit', /`kg` is not a supported unit/, /nm, um/],
    ['2 s', 'length', 'unknown-unit', /`s`/, /mm/],
    ['3 * (2 parsecs)', 'length', 'unknown-unit', /`parsecs`/, /./],
    // A scale with a zero of its own has no thousandths.
    ['20000 mdegC', 'temperature', 'unknown-unit', /`mdegC`/, /./],
    ['rin', 'length', 'unknown-name', /`rin`/, /did you mean `rim`/],
    ['zzz', 'length', 'unknown-name', /`zzz`/, /known: rim, smr/],
    ['sni(30 deg)', 'number', 'unknown-name', /function/, /`sin`/],
    ['2 rim', 'length', 'bad-expression', /has no operator between its two values/, /2 \* rim/],
    ['2 rod', 'length', 'bad-expression', /has no operator between its two values/, /2 \* rod/],
    ['rim(2)', 'length', 'bad-expression', /a parameter, not a function/, /rim \*/],
    ['mm', 'length', 'bad-expression', /needs a number/, /1 mm/],
    ['cos', 'number', 'bad-expression', /needs an argument/, /cos\(/],
    ['atan2(1)', 'angle', 'bad-expression', /takes 2 arguments, got 1/, /comma/],
    ['1,5 mm', 'length', 'bad-expression', /decimal comma/, /point/],
    ['', 'length', 'bad-expression', /empty/, /number/],
    ['   ', 'length', 'bad-expression', /empty/, /number/],
    ['1 +', 'length', 'bad-expression', /cannot read/, /rim \+ smr\/2/],
    ['1/0', 'number', 'out-of-range', /Infinity/, /division by zero/],
    ['0/0', 'number', 'out-of-range', /NaN/, /./],
    ['sqrt(0-1)', 'number', 'out-of-range', /NaN/, /a root of a negative number/],
    ['1e400', 'number', 'out-of-range', /Infinity/, /too large/],
    ['10^10^10', 'number', 'out-of-range', /Infinity/, /too large/],
    [Number.NaN, 'length', 'out-of-range', /NaN/, /./],
    [1e308, 'length', 'out-of-range', /beyond the limit of ±10000000 mm/, /unit/],
    ['11 km', 'length', 'out-of-range', /beyond/, /unit/],
    [1e6, 'angle', 'out-of-range', /beyond/, /unit/],
  ])('%j as %s: %s', (given, expects, code, message, hint) => {
    const { problem } = evaluateQuantity(given, expects, scope);
    expect(problem?.code).toBe(code);
    expect(problem?.message).toMatch(message);
    expect(problem?.hint).toMatch(hint);
  });
});

describe('constructs without a place in an expression are refused by name', () => {
  test.each([
    ['1:10', /range/],
    ['1:1e9', /range/],
    ['x = 3', /assignment/],
    ['f(x) = x', /function definition/],
    ['[1, 2]', /list or an index/],
    ['rim[1]', /list or an index/],
    ['{a: 1}', /range|object/],
    ['"text"', /quoted string/],
    ["'a'", /quoted string/],
    ['1; 2', /several expressions/],
    ['1\n+ 2', /line break/],
    ['rim > 1 ? 2 : 3', /comparison/],
    ['true ? 1 : 2', /conditional/],
    ['5!', /factorial/],
    ['7 % 3', /percentage or a remainder/],
    ['rim # comment', /comment/],
    ['rim.constructor', /index or a property/],
    ['constructor.constructor', /index or a property/],
    ['rim.*2', /operator `\.\*`/],
    ['2 to mm', /operator `to`/],
    ['7 mod 3', /operator `mod`/],
    ['not 1', /operator `not`/],
    ['0x10', /number 0x10/],
    ['true', /`true`/],
    ['null + 1', /word null/],
    ['NaN + 1', /./],
    ['import("fs")', /quoted string/],
    ['import(fs)', /there is no function `import`|there is no parameter/],
    ['process.exit()', /index or a property|named function/],
    ['eval(1)', /there is no function `eval`/],
    ['createUnit(1)', /there is no function `createUnit`/],
    ['rim \u2013 2', /character/],
    ['\u001b[31m', /character|list/],
  ])('%j', (given, message) => {
    const { problem } = evaluateQuantity(given, 'number', scope);
    expect(problem?.message).toMatch(message);
  });

  test.each([
    ['too long', '1+'.repeat(200).concat('1'), /400|401/],
    ['too deep', `${'('.repeat(60)}1${')'.repeat(60)}`, /nests parentheses more than 32/],
    ['a thousand signs', `${'-'.repeat(1000)}1`, /characters/],
  ])('%s', (_, given, message) => {
    expect(evaluateQuantity(given, 'number', scope).problem?.message).toMatch(message);
  });

  test('nothing a text may hold makes it throw, or last', () => {
    const piece = fc.constantFrom(
      ...[
        'rim',
        'smr',
        'tilt',
        'n',
        'mm',
        'in',
        'inch',
        'degC',
        'sin',
        'hypot',
        'pi',
        '__proto__',
        'constructor',
      ],
      ...[
        '1',
        '2.5',
        '1e3',
        '.5',
        '1e308',
        '(',
        ')',
        '+',
        '-',
        '*',
        '/',
        '^',
        ',',
        ' ',
        '.',
        '%',
        ':',
        '[',
        '\u00b5m',
      ],
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece, { maxLength: 40 }).map((all) => all.join('')),
        ),
        (text) => {
          const { value, problem } = evaluateQuantity(text, 'length', scope);
          expect(value === undefined ? problem?.message : Number.isFinite(value)).toBeTruthy();
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('the ways to a value agree', () => {
  test('a literal and the same in parentheses give the same bits', () => {
    const numbers = fc.oneof(
      fc.double({ min: -1e3, max: 1e3, noNaN: true }),
      fc.integer({ min: -999, max: 999 }),
    );
    const names = [...commonUnitNames()].filter((name) => /^[a-z]+$/i.test(name) && name !== 'in');
    fc.assert(
      fc.property(numbers, fc.constantFrom(...names), (number, name) => {
        const { dimension } = commonUnit(name)!;
        const literal = evaluateQuantity(`${number} ${name}`, dimension, scope);
        const parsed = evaluateQuantity(`(${number} ${name})`, dimension, scope);
        expect(parsed).toEqual(literal);
      }),
      { numRuns: 300 },
    );
  });

  test('each common unit that mathjs knows is as large there', () => {
    const own = { length: 'mm', angle: 'rad', temperature: 'K', pressure: 'Pa', power: 'W', number: '' };
    // Scales with a zero of their own are left out; mathjs rounds the torr to 133.322 Pa.
    const known = [...commonUnitNames()].filter(
      (name) => isMathjsUnit(name) && unitNamed(name)!.offset === undefined,
    );
    expect(known.length).toBeGreaterThan(30);
    for (const name of known) {
      const { dimension, numerator, denominator } = unitNamed(name)!;
      const theirs = unit(1, name).toNumber(own[dimension]);
      expect(numerator / denominator / theirs, name).toBeCloseTo(1, name === 'torr' ? 5 : 12);
    }
  });

  test('a fault of a parameter is told once, not at each use', () => {
    expect([...problems.keys()]).toEqual(['broken']);
    expect(evaluateQuantity('downstream + 1', 'length', scope)).toEqual({ problem: undefined });
  });
});

function isMathjsUnit(name: string): boolean {
  try {
    return unit(1, name) !== undefined;
  } catch {
    return false;
  }
}
