/**
 * A table of lengths and angles, and perhaps names, row by row: columns found by their names, in any order, each in the unit that its
 * name gives. Out come mm and radians.
 */
import type { Finding } from '../../finding/finding.ts';
import { fromUnit, type Unit } from '../../quantity/unit.ts';
import { columnName, columnUnit } from './column-name.ts';
import { numberIn } from './number-field.ts';
import type { Spot, TableFaults } from './table-faults.ts';
import { TableReader } from './table-reader.ts';
import type { TextField } from './table-scanner.ts';

export interface WantedColumn {
  /** Without its unit, in small letters. */
  readonly stem: string;
  readonly holds: 'name' | 'length' | 'angle';
}

export interface NumericRow {
  /** In mm and radians, in the order of the columns asked for; of a name NaN. */
  readonly values: readonly number[];
  readonly fields: readonly TextField[];
}

interface FoundColumn {
  readonly position: number;
  readonly name: string;
  /** Undefined where the column holds names. */
  readonly unit: Unit | undefined;
}

/** Largest magnitude taken, in the column's unit: ten kilometres in mm. */
const LARGEST = 1e7;

const asWritten = ({ stem, holds }: WantedColumn): string =>
  holds === 'name' ? stem : `${stem}_${holds === 'length' ? 'mm' : 'deg'}`;

const headHint = (wanted: readonly WantedColumn[]): string =>
  `the header must be ${wanted.map(asWritten).join(',')}, or other units such as ${otherUnits(wanted)}`;

const otherUnits = (wanted: readonly WantedColumn[]): string => {
  const { stem } = wanted.find(({ holds }) => holds === 'length')!;
  return `${stem}_um or ${stem} [in]`;
};

interface NumericForm {
  /** The columns that a head with these stems is meant to have. */
  readonly wanted: (stems: ReadonlySet<string>) => readonly WantedColumn[];
  /** What rows are, many of them, and how many are taken. */
  readonly rows: string;
  readonly mostRows: number;
  /** Takes a row in which nothing is wrong. */
  readonly take: (row: NumericRow) => void;
}

/** `faults` may be added to by `take` as well. */
export class NumericTable {
  readonly #faults: TableFaults;
  readonly #form: NumericForm;
  readonly #reader: TableReader;
  #columns: readonly FoundColumn[] = [];

  constructor(faults: TableFaults, form: NumericForm) {
    this.#faults = faults;
    this.#form = form;
    this.#reader = new TableReader(faults, {
      asHead: () => headHint(form.wanted(new Set())),
      rows: form.rows,
      mostRows: form.mostRows,
      head: (fields, whole) => this.#readHead(fields, whole),
      row: (fields) => this.#readRow(fields),
    });
  }

  /** The next piece of the text; false where the rest is not wanted. */
  push(piece: string): boolean {
    return this.#reader.push(piece);
  }

  /** After the last piece: what is wrong, nothing if the table is sound. */
  end(): readonly Finding[] {
    this.#reader.end();
    return this.#faults.closed();
  }

  /** The columns, in the order asked for, by their names in the head. */
  get names(): readonly string[] {
    return this.#columns.map(({ name }) => name);
  }

  /** Whether numbers of this column are mm or radians as they are written. */
  isPlain(column: number): boolean {
    const { unit } = this.#columns[column]!;
    return unit !== undefined && fromUnit(1, unit) === 1;
  }

  #readHead(fields: readonly TextField[], whole: Spot): void {
    const names = fields.map(({ text }) => columnName(text));
    const wanted = this.#form.wanted(new Set(names.map(({ stem }) => stem)));
    const hint = headHint(wanted);
    const found = new Map<string, FoundColumn>();
    for (const [position, field] of fields.entries()) {
      const { text: name } = field;
      if (name === '') continue;
      const column = wanted.find(
        (each) => each.stem === (each.holds === 'name' ? name.toLowerCase() : names[position]!.stem),
      );
      if (column === undefined) {
        this.#faults.add(field, `unknown column ${JSON.stringify(name)}`, hint);
        continue;
      }
      const { stem, holds } = column;
      const unit = holds === 'name' ? undefined : columnUnit(name, stem, names[position]!.unit, holds);
      const before = found.get(stem);
      if (before !== undefined)
        this.#faults.add(
          field,
          `column ${JSON.stringify(name)} appears twice: ${JSON.stringify(before.name)} is the same quantity`,
          'keep one of the two',
        );
      else if (typeof unit === 'string') this.#faults.add(field, unit, hint);
      if (before === undefined)
        found.set(stem, { position, name, unit: typeof unit === 'string' ? undefined : unit });
    }
    for (const column of wanted)
      if (!found.has(column.stem)) this.#faults.add(whole, `column ${asWritten(column)} is missing`, hint);
    this.#columns = wanted.flatMap(({ stem }) => found.get(stem) ?? []);
  }

  #readRow(all: readonly TextField[]): void {
    const before = this.#faults.count;
    const fields = this.#columns.map(({ position }) => all[position]!);
    const values = this.#columns.map(({ name, unit }, k) => {
      const field = fields[k]!;
      if (unit !== undefined)
        return fromUnit(numberIn(field, name, LARGEST, this.#faults) ?? Number.NaN, unit);
      if (field.text === '') this.#faults.add(field, `${name} is empty`, 'give it a name');
      return Number.NaN;
    });
    if (this.#faults.count === before) this.#form.take({ values, fields });
  }
}
