/** One reader for every table: what all of them have in common, from the empty file to the row that is too long; their columns are their own. */
import { hasDecimalComma, isNumber } from './number-field.ts';
import type { Spot, TableFaults } from './table-faults.ts';
import { BLANKS, TableScanner, type TextField } from './table-scanner.ts';

/** What one kind of table makes of its head and its rows; what is wrong it adds to the faults. */
interface TableForm {
  /** What the head should be. */
  readonly asHead: () => string;
  /** What rows are, many of them, and how many are taken. */
  readonly rows: string;
  readonly mostRows: number;
  head(fields: readonly TextField[], whole: Spot): void;
  /** A row with a field for each column. */
  row(fields: readonly TextField[]): void;
  comment?(line: string, whole: Spot): void;
  /** For tables that other programs write. */
  readonly foreign?: ForeignForm;
}

/** A table of another program's: fields may be separated by blanks, and other lines may stand above its header. */
export interface ForeignForm {
  /** The columns' names, in place of those of the header. */
  readonly columns: readonly string[] | undefined;
  /** Whether a text is a column's name. */
  isColumn(text: string): boolean;
  /** A line above the first row that was passed over, or a header in whose place `columns` stand. */
  passed(whole: Spot): void;
}

/** For the fault of a table that has nothing to point at. */
const START: Spot = { line: 0, at: 0, width: 1, lineText: '' };

export class TableReader {
  readonly #scanner: TableScanner;
  readonly #faults: TableFaults;
  readonly #form: TableForm;
  #head: { readonly whole: Spot; readonly unnamed: readonly number[]; readonly count: number } | undefined;
  #rows = 0;
  #above: Spot | undefined;
  #aboveCount = 0;

  constructor(faults: TableFaults, form: TableForm) {
    this.#faults = faults;
    this.#form = form;
    this.#scanner = new TableScanner(faults, {
      row: (fields, whole) =>
        this.#head === undefined ? this.#takeHead(fields, whole) : this.#takeRow(fields, whole),
      comment: (line, whole) => form.comment?.(line, whole),
      ...(form.foreign === undefined
        ? {}
        : { blanks: true, isAbove: (whole) => this.#passesOver(whole, form.foreign!) }),
    });
  }

  /** The row just taken belongs to the head: a row of units. */
  countAsHead(): void {
    this.#rows--;
  }

  /** Of the first row; undefined above it. */
  get separator(): string | undefined {
    return this.#scanner.separator;
  }

  /** The next piece of the text, of any length; false where the rest is not wanted. */
  push(piece: string): boolean {
    return this.#scanner.push(piece);
  }

  /** After the last piece. */
  end(): void {
    this.#scanner.end();
    const { asHead, rows } = this.#form;
    if (this.#faults.count > 0) return;
    if (this.#head === undefined && this.#above !== undefined)
      this.#faults.add(
        this.#above,
        `no ${this.#form.foreign?.columns === undefined ? 'header with the names of the columns' : 'row with numbers'} was found`,
        asHead(),
      );
    else if (this.#head === undefined) this.#faults.add(START, 'the table is empty', asHead());
    else if (this.#rows === 0)
      this.#faults.add(
        this.#head.whole,
        'the table has a header but no rows',
        `give at least one row of ${rows}`,
      );
  }

  /** Neither names of two columns nor three numbers: a title, a date, the operator's name. */
  #passesOver(whole: Spot, foreign: ForeignForm): boolean {
    const most = (isOne: (part: string) => boolean): number =>
      Math.max(...splits(whole.lineText).map((parts) => parts.filter(isOne).length));
    const numbers = most(isAnyNumber);
    const names = foreign.columns === undefined ? most((part) => foreign.isColumn(part)) : 0;
    if (numbers >= COORDINATES || names >= 2 || this.#aboveCount === MOST_ABOVE) return false;
    this.#aboveCount++;
    this.#above ??= whole;
    foreign.passed(whole);
    return true;
  }

  /** The columns as the user names them; the first row is one of values. */
  #takeNamed(fields: readonly TextField[], whole: Spot, columns: readonly string[]): void {
    this.#head = { whole, unnamed: [], count: columns.length };
    if (fields.length !== columns.length) {
      const message = `has ${fields.length} fields but ${columns.length} columns are named`;
      this.#faults.add(whole, message, 'name each column of the table in order, `-` for one to leave out');
    } else
      this.#form.head(
        fields.map((field, k) => ({ ...field, text: columns[k]! })),
        whole,
      );
    if (this.#faults.count > 0) this.#scanner.stop();
    else this.#takeRow(fields, whole);
  }

  #takeHead(all: readonly TextField[], whole: Spot): void {
    const { foreign } = this.#form;
    if (foreign?.columns !== undefined) {
      this.#takeNamed(all, whole, foreign.columns);
      return;
    }
    const fields = foreign !== undefined && this.#scanner.separator === BLANKS ? joined(all, foreign) : all;
    const unnamed = [...fields.keys()].filter((k) => fields[k]!.text === '');
    this.#head = { whole, unnamed, count: fields.length };
    const numbers = fields.filter(({ text }) => isAnyNumber(text)).length;
    if (numbers + unnamed.length === fields.length || (foreign !== undefined && numbers >= COORDINATES)) {
      const message =
        this.#above === undefined
          ? 'the first line contains numbers, not column names'
          : 'there is no header with the names of the columns above these numbers';
      this.#faults.add(whole, message, this.#form.asHead());
    } else this.#form.head(fields, whole);
    if (this.#faults.count > 0) this.#scanner.stop();
  }

  #takeRow(all: readonly TextField[], whole: Spot): void {
    const { count, unnamed } = this.#head!;
    // Some programs end each row, but not the header, with a separator.
    const isEnded = this.#form.foreign !== undefined && all.length === count + 1 && all.at(-1)!.text === '';
    const fields = isEnded ? all.slice(0, -1) : all;
    const { rows, mostRows } = this.#form;
    this.#rows++;
    if (this.#rows > mostRows) {
      this.#faults.add(
        whole,
        `the table has more than ${mostRows} ${rows}`,
        `at most ${mostRows}; split it`,
        'too-many',
      );
      this.#scanner.stop();
      return;
    }
    if (fields.length !== count) {
      const message = `has ${fields.length} fields but the header has ${count} columns`;
      const { separator } = this.#scanner;
      const hint =
        separator === ',' && fields.length > count
          ? '; write decimal points, not commas, and quote a value that contains a comma'
          : separator === BLANKS
            ? '; quote a name that contains blanks, or separate the columns by semicolons or tabs'
            : '';
      this.#faults.add(whole, message, `give one field per column${hint}`);
      return;
    }
    const stray = unnamed.map((k) => fields[k]!).find(({ text }) => text !== '');
    if (stray !== undefined)
      this.#faults.add(stray, 'a value in a column without a name', 'name the column, or remove the value');
    this.#form.row(fields);
  }
}

/** Numbers that a row of places has at least. */
const COORDINATES = 3;
/** Lines passed over above a header. */
const MOST_ABOVE = 50;

const isAnyNumber = (text: string): boolean => isNumber(text) || hasDecimalComma(text);

/** The fields of a line by each separator that it may have. */
const splits = (line: string): readonly (readonly string[])[] =>
  [',', ';', '\t', /\s+/].map((separator) =>
    line
      .trim()
      .split(separator)
      .map((part) =>
        part
          .trim()
          .replace(/^"(.*)"$/, '$1')
          .trim(),
      ),
  );

/** The fields of a head that blanks separate: a unit in brackets belongs to the name before it, and a name may be of two words. */
function joined(fields: readonly TextField[], foreign: ForeignForm): readonly TextField[] {
  const names: TextField[] = [];
  for (const field of fields) {
    const before = names.at(-1);
    const both = before === undefined ? '' : `${before.text} ${field.text}`;
    const isOne =
      /^(?:\[.*\]|\(.*\))$/.test(field.text) || (foreign.isColumn(both) && !/\s/.test(before!.text));
    if (before !== undefined && isOne)
      names.splice(-1, 1, { ...before, text: both, width: field.at + field.width - before.at });
    else names.push(field);
  }
  return names;
}
