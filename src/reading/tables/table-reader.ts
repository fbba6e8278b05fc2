/** One reader for every table: what all of them have in common, from the empty file to the row that is too long; their columns are their own. */
import { isNumber } from './number-field.ts';
import type { Spot, TableFaults } from './table-faults.ts';
import { TableScanner, type TextField } from './table-scanner.ts';

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
  comment?(line: string): void;
}

/** For the fault of a table that has nothing to point at. */
const START: Spot = { line: 0, at: 0, width: 1, lineText: '' };

export class TableReader {
  readonly #scanner: TableScanner;
  readonly #faults: TableFaults;
  readonly #form: TableForm;
  #head: { readonly whole: Spot; readonly unnamed: readonly number[]; readonly count: number } | undefined;
  #rows = 0;

  constructor(faults: TableFaults, form: TableForm) {
    this.#faults = faults;
    this.#form = form;
    this.#scanner = new TableScanner(faults, {
      row: (fields, whole) =>
        this.#head === undefined ? this.#takeHead(fields, whole) : this.#takeRow(fields, whole),
      comment: (line) => form.comment?.(line),
    });
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
    if (this.#head === undefined) this.#faults.add(START, 'the table is empty', asHead());
    else if (this.#rows === 0)
      this.#faults.add(
        this.#head.whole,
        'the table has a header but no rows',
        `give at least one row of ${rows}`,
      );
  }

  #takeHead(fields: readonly TextField[], whole: Spot): void {
    const unnamed = [...fields.keys()].filter((k) => fields[k]!.text === '');
    this.#head = { whole, unnamed, count: fields.length };
    if (fields.every(({ text }) => text === '' || isNumber(text.replace(',', '.')))) {
      const message = 'the first line contains numbers, not column names';
      this.#faults.add(whole, message, this.#form.asHead());
    } else this.#form.head(fields, whole);
    if (this.#faults.count > 0) this.#scanner.stop();
  }

  #takeRow(fields: readonly TextField[], whole: Spot): void {
    const { count, unnamed } = this.#head!;
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
      const commas = this.#scanner.separator === ',' && fields.length > count;
      const hint = commas
        ? '; write decimal points, not commas, and quote a value that contains a comma'
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
