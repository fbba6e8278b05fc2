/**
 * Tables of numbers: columns by their names, in any order, each with its unit; every fault with its line and column. Lengths come out in
 * mm, angles in degrees. Row by row, so that a table of any length can pass through.
 */
import type { Place } from '../../finding/finding.ts';
import { isNumber, numberOf } from './number-field.ts';
import { namedColumn, scaleOf } from './quantity-column.ts';
import { placeAt, type TableFaults } from './table-faults.ts';
import { type TableRow, TableRows, wholeLine } from './table-rows.ts';

/** Largest magnitude taken, in the column's unit: ten kilometres in mm. */
const LARGEST = 1e7;

export interface WantedColumn {
  readonly stem: string;
  readonly is: 'length' | 'angle' | 'text';
}

interface Column extends WantedColumn {
  /** As the head has it. */
  readonly name: string;
  readonly position: number;
  /** From the column's unit to mm or degrees. */
  readonly scale: number;
}

const USUAL_UNIT = { length: 'mm', angle: 'deg', text: '' } as const;
const nameOf = ({ stem, is }: WantedColumn): string => (is === 'text' ? stem : `${stem}_${USUAL_UNIT[is]}`);

class NumericColumns {
  readonly columns: readonly Column[];
  readonly #reader: TableRows;
  readonly #faults: TableFaults;

  private constructor(columns: readonly Column[], reader: TableRows, faults: TableFaults) {
    this.columns = columns;
    this.#reader = reader;
    this.#faults = faults;
  }

  /** From the head; undefined where a fault is reported. */
  static read(
    reader: TableRows,
    head: TableRow,
    wanted: readonly WantedColumn[],
    faults: TableFaults,
  ): NumericColumns | undefined {
    const asHead = `the header must be ${wanted.map(nameOf).join(',')}, or have other units`;
    const before = faults.count;
    if (head.texts.every(isNumber)) {
      faults.add(wholeLine(head), 'the first line contains numbers, not column names', asHead);
      return undefined;
    }
    const fields = reader.fields(head);
    const columns = wanted.map((column) => columnOf(column, head.texts));
    for (const [k, name] of head.texts.entries()) {
      const { stem } = namedColumn(name);
      const first = head.texts.findIndex((other) => namedColumn(other).stem === stem);
      if (!wanted.some((column) => column.stem === stem))
        faults.add(fields[k]!, `unknown column ${JSON.stringify(name)}`, asHead);
      else if (first !== k) faults.add(fields[k]!, `column ${stem} appears twice`, asHead);
    }
    for (const [k, column] of columns.entries()) {
      const name = nameOf(wanted[k]!);
      if (column === undefined) faults.add(wholeLine(head), `column ${name} is missing`, asHead);
      else if (!(column.scale > 0))
        faults.add(
          fields[column.position]!,
          `column ${JSON.stringify(column.name)} has no unit of ${column.is}`,
          `name it ${name}, or with another unit of ${column.is}`,
        );
    }
    if (faults.count > before) return undefined;
    return new NumericColumns(
      columns.map((column) => column!),
      reader,
      faults,
    );
  }

  /** The row's numbers in the wanted order, NaN for a text, into `out`; false where a fault is reported. */
  numbers(row: TableRow, out: Float64Array): boolean {
    const { columns } = this;
    if (row.texts.length !== columns.length) {
      this.#reader.misfit(row, columns.length);
      return false;
    }
    let isFine = true;
    for (let k = 0; k < columns.length; k++) {
      const { position, scale, name, is } = columns[k]!;
      const text = row.texts[position]!;
      out[k] = Number.NaN;
      if (is === 'text') {
        if (text !== '') continue;
        this.#faults.add(this.#reader.fields(row)[position]!, `${name} is empty`, 'give it a name');
        isFine = false;
        continue;
      }
      const value = numberOf(text, LARGEST);
      if (typeof value === 'number') out[k] = scale === 1 ? value : value * scale;
      else {
        const message = `${JSON.stringify(text)} is not a valid number for ${name}`;
        this.#faults.add(this.#reader.fields(row)[position]!, message, value.hint);
        isFine = false;
      }
    }
    return isFine;
  }

  /** A wanted column's field as it was written. */
  text(row: TableRow, column: number): string {
    return row.texts[this.columns[column]!.position]!;
  }

  placeOf(file: string, row: TableRow, column: number): Place {
    return placeAt(file, this.#reader.fields(row)[this.columns[column]!.position]!);
  }
}

/** A wanted column among the names; its scale is 0 where its unit is none. */
function columnOf(wanted: WantedColumn, names: readonly string[]): Column | undefined {
  const position = names.findIndex((name) => namedColumn(name).stem === wanted.stem);
  if (position < 0) return undefined;
  const name = names[position]!;
  const scale = wanted.is === 'text' ? 1 : (scaleOf(namedColumn(name).unit, wanted.is) ?? 0);
  return { ...wanted, name, position, scale };
}

export interface NumericRow {
  readonly row: TableRow;
  /** In the wanted order. */
  readonly values: Float64Array;
}

/** Picks the wanted columns by the head's stems. */
type Choose = (stems: readonly string[]) => readonly WantedColumn[];

/** A table read in pieces of any size, each to its rows; of more rows than `most` it reads none. */
export class NumericRows {
  readonly #rows: TableRows;
  readonly #choose: Choose;
  readonly #most: number;
  readonly #faults: TableFaults;
  #head: TableRow | undefined;
  #columns: NumericColumns | undefined;
  #count = 0;

  constructor(choose: Choose, most: number, faults: TableFaults) {
    this.#rows = new TableRows(faults);
    this.#choose = choose;
    this.#most = most;
    this.#faults = faults;
  }

  /** Undefined until the head is read, and where that is faulty. */
  get columns(): NumericColumns | undefined {
    return this.#columns;
  }

  push(text: string): NumericRow[] {
    return this.#read(this.#rows.push(text));
  }

  end(): NumericRow[] {
    const last = this.#read(this.#rows.end());
    if (this.#faults.count > 0 || this.#count > 0) return last;
    if (this.#head === undefined) emptyTable(this.#choose([]), this.#faults);
    else
      this.#faults.add(
        wholeLine(this.#head),
        'the table has a header but no rows',
        'give at least one row of numbers',
      );
    return last;
  }

  #read(rows: readonly TableRow[]): NumericRow[] {
    const read: NumericRow[] = [];
    for (const row of rows) {
      if (this.#head === undefined) {
        this.#head = row;
        const wanted = this.#choose(row.texts.map((name) => namedColumn(name).stem));
        this.#columns = NumericColumns.read(this.#rows, row, wanted, this.#faults);
        if (this.#columns === undefined) this.#rows.stop();
        continue;
      }
      if (this.#columns === undefined) break;
      this.#count++;
      if (this.#count > this.#most) {
        this.#faults.tooMany(
          wholeLine(row),
          `the table has more than ${this.#most} rows`,
          `at most ${this.#most}`,
        );
        this.#rows.stop();
        break;
      }
      const values = new Float64Array(this.#columns.columns.length);
      if (this.#columns.numbers(row, values)) read.push({ row, values });
    }
    return read;
  }
}

/** A whole text, all its rows; undefined where `faults` say why. */
export function readNumericTable(
  text: string,
  choose: Choose,
  most: number,
  faults: TableFaults,
): { readonly columns: NumericColumns; readonly rows: readonly NumericRow[] } | undefined {
  const table = new NumericRows(choose, most, faults);
  const rows: NumericRow[] = [];
  for (let at = 0; at < text.length; at += PIECE) rows.push(...table.push(text.slice(at, at + PIECE)));
  rows.push(...table.end());
  const { columns } = table;
  return columns === undefined || faults.count > 0 ? undefined : { columns, rows };
}

/** Characters read at once. */
const PIECE = 1 << 16;

function emptyTable(wanted: readonly WantedColumn[], faults: TableFaults): void {
  const spot = { line: 0, at: 0, width: 1 };
  faults.add(spot, 'the table is empty', `the header must be ${wanted.map(nameOf).join(',')}`);
}
