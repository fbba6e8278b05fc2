/**
 * A CSV of numbers (RFC 4180 without quoting: no field of it needs any) into typed arrays, every fault with its line and column.
 * Columns are found by their names in the first line, in any order; `#` lines and empty lines are passed over.
 */
import type { Finding, Place } from '../../finding/finding.ts';
import { placeAt, type Spot, TableFaults } from './table-faults.ts';

type NumericTable =
  | {
      /** One array a wanted column, in the order asked for. */
      readonly columns: readonly Float64Array[];
      /** The same fields as they were written. */
      readonly texts: readonly (readonly string[])[];
      /** Where the field of a row (from 0) in a wanted column stands. */
      readonly placeOf: (row: number, column: number) => Place;
    }
  | { readonly findings: readonly Finding[] };

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
/** Largest magnitude taken, in the column's unit: ten kilometres in mm. */
const LARGEST = 1e7;

/** The names in the first line that is not empty or a comment; none of an empty table. */
export function tableHead(text: string): readonly string[] {
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/);
  const head = lines.find((line) => line.trim() !== '' && !line.startsWith('#'));
  return head === undefined ? [] : head.split(',').map((name) => name.trim());
}

/** Reads the `wanted` columns, all of them; those of `names` hold texts, whose numbers are NaN. */
export function readNumericTable(
  text: string,
  file: string,
  wanted: readonly string[],
  names: readonly string[] = [],
): NumericTable {
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/);
  const faults = new TableFaults(file);
  const headAt = lines.findIndex((line) => line.trim() !== '' && !line.startsWith('#'));
  if (headAt < 0) {
    faults.add({ line: 0, at: 0, width: 1 }, 'the table is empty', `the header must be ${wanted.join(',')}`);
    return { findings: faults.list };
  }
  const positions = columnPositions(lines[headAt], headAt, wanted, faults);
  if (faults.list.length > 0) return { findings: faults.list };
  const texts: string[][] = wanted.map(() => []);
  const rows: { readonly line: number; readonly fields: readonly string[] }[] = [];
  for (let k = headAt + 1; k < lines.length; k++) {
    const line = lines[k];
    if (line.trim() === '' || line.startsWith('#')) continue;
    const fields = line.split(',');
    if (fields.length !== wanted.length) {
      const message = `has ${fields.length} values but the header has ${wanted.length} columns`;
      faults.add({ line: k, at: 0, width: line.length }, message, 'give one value per column');
      continue;
    }
    rows.push({ line: k, fields });
    positions.forEach((position, column) => {
      const field = fields[position].trim();
      if (names.includes(wanted[column])) {
        if (field === '')
          faults.add(spotOf(k, fields, position), `${wanted[column]} is empty`, 'give it a name');
      } else if (!NUMBER.test(field) || Math.abs(Number(field)) > LARGEST) {
        const message = `${JSON.stringify(field)} is not a valid number for ${wanted[column]}`;
        faults.add(spotOf(k, fields, position), message, `write a decimal number of at most ${LARGEST}`);
      }
      texts[column].push(field);
    });
  }
  if (faults.list.length === 0 && texts[0].length === 0) {
    const head = { line: headAt, at: 0, width: lines[headAt].length };
    faults.add(head, 'the table has a header but no rows', 'give at least one row of numbers');
  }
  if (faults.list.length > 0) return { findings: faults.closed() };
  const placeOf = (row: number, column: number): Place => {
    const { line, fields } = rows[row];
    return placeAt(file, spotOf(line, fields, positions[column]));
  };
  return { columns: texts.map((column) => Float64Array.from(column, Number)), texts, placeOf };
}

/** Where the field at `position` of a line stands. */
const spotOf = (line: number, fields: readonly string[], position: number): Spot => ({
  line,
  at: fields.slice(0, position).join(',').length + (position > 0 ? 1 : 0),
  width: fields[position].length,
});

function columnPositions(
  head: string,
  line: number,
  wanted: readonly string[],
  faults: TableFaults,
): number[] {
  const fields = head.split(',');
  const names = fields.map((name) => name.trim());
  const asHead = `the header must be ${wanted.join(',')}`;
  const whole = { line, at: 0, width: head.length };
  if (names.every((name) => NUMBER.test(name))) {
    faults.add(whole, 'the first line contains numbers, not column names', asHead);
    return [];
  }
  for (const [k, name] of names.entries()) {
    const spot = spotOf(line, fields, k);
    if (!wanted.includes(name)) faults.add(spot, `unknown column ${JSON.stringify(name)}`, asHead);
    else if (names.indexOf(name) !== k) faults.add(spot, `column ${name} appears twice`, asHead);
  }
  for (const name of wanted) {
    if (!names.includes(name)) faults.add(whole, `column ${name} is missing`, asHead);
  }
  return wanted.map((name) => names.indexOf(name));
}
