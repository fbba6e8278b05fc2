/** A field of a table as a number: a decimal point, or a comma where the table may have them (`decimal`), no other separators. What is not one is told, never guessed at. */
import type { DecimalSign } from './decimal-sign.ts';
import type { TableFaults } from './table-faults.ts';
import type { TextField } from './table-scanner.ts';

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;

/** U+2212 for a minus, as a spreadsheet or a page writes it, is one. */
export const withAsciiMinus = (text: string): string => text.replace(/^\u2212/, '-');

export const isNumber = (text: string): boolean => NUMBER.test(text);

/** A number with commas: `1,5` may be one and a half, `1,234.5` has its thousands marked, of `1,234` nobody can tell. */
export const hasDecimalComma = (text: string): boolean => /^[+-]?[\d.]*,\d[\d.,]*([eE][+-]?\d+)?$/.test(text);

export const COMMA_HINT = 'write a decimal point, not a comma';

/** The number as it is written, or undefined and the fault added. `name` is the column's, `largest` the largest magnitude. */
export function numberIn(
  field: TextField,
  name: string,
  largest: number,
  faults: TableFaults,
  decimal?: DecimalSign,
): number | undefined {
  const { text } = field;
  const written = withAsciiMinus(text);
  const plain = decimal === undefined ? written : decimal.plain(field, written);
  if (plain === undefined) return undefined;
  const value = isNumber(plain) ? Number(plain) : Number.NaN;
  if (Math.abs(value) <= largest) return value;
  if (text === '') faults.add(field, `the value of ${name} is missing`, 'give a number');
  else {
    const hint = hasDecimalComma(text) ? COMMA_HINT : `write a decimal number of at most ${largest}`;
    faults.add(field, `${JSON.stringify(text)} is not a valid number for ${name}`, hint);
  }
  return undefined;
}
