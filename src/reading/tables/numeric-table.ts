/**
 * A table of lengths and angles, and perhaps names, row by row: columns found by their names, in any order, each in the unit that its
 * name gives. Out come mm and radians.
 */
import type { Finding } from '../../finding/finding.ts';
import { fromUnit, type Unit } from '../../quantity/unit.ts';
import type { PointTable, UnitSource } from '../../scenario/point-table.ts';
import { type ColumnName, columnName, columnUnit } from './column-name.ts';
import { DecimalSign } from './decimal-sign.ts';
import { type ForeignColumns, isSame } from './foreign-columns.ts';
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
  readonly wanted: WantedColumn;
  /** Where its name stands. */
  readonly field: TextField;
  /** Undefined where the column holds names, or while its unit is not known yet. */
  readonly unit: Unit | undefined;
  readonly unitFrom: UnitSource | undefined;
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
  /** For tables that other programs write: other names of columns, units that stand elsewhere, columns that are left. */
  readonly foreign?: ForeignColumns;
}

/** `faults` may be added to by `take` as well. */
export class NumericTable {
  readonly #faults: TableFaults;
  readonly #form: NumericForm;
  readonly #reader: TableReader;
  readonly #decimal: DecimalSign | undefined;
  #columns: readonly FoundColumn[] = [];
  #isFirst = true;
  #hasUnits = true;

  constructor(faults: TableFaults, form: NumericForm) {
    this.#faults = faults;
    this.#form = form;
    const { foreign } = form;
    this.#decimal = foreign === undefined ? undefined : new DecimalSign(foreign.decimal, faults);
    this.#reader = new TableReader(faults, {
      asHead: () => this.#headHint(form.wanted(new Set())),
      ...(foreign === undefined
        ? {}
        : { foreign, comment: (line: string, whole: Spot) => foreign.above(line, whole) }),
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
    this.#decimal?.end();
    return this.#faults.closed();
  }

  /** How it was read; of a table that has ended and is sound. */
  get form(): Pick<PointTable, 'separator' | 'decimal' | 'columns'> {
    const separators = { ',': 'comma', ';': 'semicolon', '\t': 'tab', ' ': 'blanks' } as const;
    return {
      separator: separators[(this.#reader.separator ?? ',') as keyof typeof separators],
      decimal: this.#decimal?.sign ?? 'point',
      columns: this.#columns.map(({ name, wanted, unit, unitFrom }) => {
        return { column: name, holds: wanted.stem, unit: unit?.name ?? null, unitFrom: unitFrom ?? null };
      }),
    };
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

  #said = (name: string): ColumnName => this.#form.foreign?.said(name) ?? columnName(name);

  #headHint(wanted: readonly WantedColumn[]): string {
    return `${headHint(wanted)}${this.#form.foreign === undefined ? '' : '; or name the columns of the table in order with `--columns`'}`;
  }

  #readHead(fields: readonly TextField[], whole: Spot): void {
    const { foreign } = this.#form;
    const names = fields.map(({ text }) => this.#said(text));
    const wanted = this.#form.wanted(new Set(names.map(({ stem }) => stem)));
    const hint = this.#headHint(wanted);
    const found = new Map<string, FoundColumn>();
    for (const [position, field] of fields.entries()) {
      const { text: name } = field;
      if (name === '') continue;
      const column = wanted.find(
        (each) =>
          each.stem ===
          (each.holds === 'name' && foreign === undefined ? name.toLowerCase() : names[position]!.stem),
      );
      if (column === undefined) {
        if (foreign === undefined) this.#faults.add(field, `unknown column ${JSON.stringify(name)}`, hint);
        else foreign.leave(field);
        continue;
      }
      const { stem, holds } = column;
      const before = found.get(stem);
      if (before !== undefined) {
        this.#faults.add(
          field,
          `column ${JSON.stringify(name)} appears twice: ${JSON.stringify(before.name)} is the same quantity`,
          foreign === undefined
            ? 'keep one of the two'
            : 'keep one of the two, or name the columns with `--columns`, `-` for the one to leave out',
        );
        continue;
      }
      found.set(stem, {
        position,
        name,
        wanted: column,
        field,
        ...this.#unitOf(field, holds, names[position]!, hint),
      });
    }
    for (const column of wanted)
      if (!found.has(column.stem)) this.#faults.add(whole, `column ${asWritten(column)} is missing`, hint);
    this.#columns = wanted.flatMap(({ stem }) => found.get(stem) ?? []);
  }

  /** Undefined while it is not known: it may stand in a row of its own. */
  #unitOf(
    field: TextField,
    holds: WantedColumn['holds'],
    { stem, unit: written }: ColumnName,
    hint: string,
  ): Pick<FoundColumn, 'unit' | 'unitFrom'> {
    const open = { unit: undefined, unitFrom: undefined };
    if (holds === 'name') return open;
    if (this.#form.foreign !== undefined && (written ?? '') === '') return open;
    const unit = columnUnit(field.text, stem, written, holds);
    if (typeof unit !== 'string') return { unit, unitFrom: 'column' };
    this.#faults.add(field, unit, hint);
    return open;
  }

  /** The units that the columns' names leave out: of the row below them, of a line above them, or as given; true where this row is one of units. */
  #takesUnits(all: readonly TextField[], foreign: ForeignColumns): boolean {
    const open = (column: FoundColumn): boolean =>
      column.wanted.holds !== 'name' && column.unit === undefined;
    const inRow = (column: FoundColumn): Unit | undefined =>
      foreign.unitIn(all[column.position]!.text, column.wanted.holds);
    const numeric = this.#columns.filter(({ wanted }) => wanted.holds !== 'name');
    const isRow = numeric.every((column) => inRow(column) !== undefined);
    this.#columns = this.#columns.map((column) => {
      const own = isRow && column.wanted.holds !== 'name' ? inRow(column)! : undefined;
      if (own !== undefined && column.unit !== undefined && !isSame(own, column.unit)) {
        const message = `the row of units says ${own.name} where the column is named ${JSON.stringify(column.name)}`;
        this.#faults.add(all[column.position]!, message, 'correct one of the two');
      }
      if (!open(column)) return column;
      const found =
        own === undefined
          ? foreign.unitElsewhere(column.wanted.holds)
          : ({ unit: own, from: 'row' } as const);
      if (found !== undefined) return { ...column, unit: found.unit, unitFrom: found.from };
      const { stem, holds } = column.wanted;
      const fault = columnUnit(column.name, stem, undefined, holds === 'angle' ? 'angle' : 'length');
      const options = holds === 'angle' ? '`--unit deg` or `--unit gon`' : '`--unit mm` or `--unit in`';
      this.#faults.add(column.field, `${fault}`, `or say it with ${options}`);
      return column;
    });
    for (const measure of ['length', 'angle'] as const) {
      const given = foreign.unitElsewhere(measure);
      const own = numeric.flatMap(({ unit, wanted }) => (wanted.holds === measure ? [unit] : []));
      if (given === undefined || own.length === 0) continue;
      if (own.some((unit) => unit === undefined || isSame(unit, given.unit))) continue;
      const message = `the columns name other units than ${given.from === 'option' ? '`--unit ' : 'the line above the header, '}${given.unit.name}${given.from === 'option' ? '`' : ''}`;
      this.#faults.add(
        numeric.find(({ wanted }) => wanted.holds === measure)!.field,
        message,
        'correct one of the two',
      );
    }
    return isRow;
  }

  #readRow(all: readonly TextField[]): void {
    const before = this.#faults.count;
    if (this.#isFirst && this.#form.foreign !== undefined) {
      this.#isFirst = false;
      const areUnits = this.#takesUnits(all, this.#form.foreign);
      this.#hasUnits = this.#faults.count === before;
      if (areUnits) {
        this.#reader.countAsHead();
        return;
      }
    }
    if (!this.#hasUnits) return;
    const fields = this.#columns.map(({ position }) => all[position]!);
    const values = this.#columns.map(({ name, unit, wanted }, k) => {
      const field = fields[k]!;
      if (unit !== undefined)
        return fromUnit(numberIn(field, name, LARGEST, this.#faults, this.#decimal) ?? Number.NaN, unit);
      if (field.text === '' && wanted.holds === 'name')
        this.#faults.add(field, `${name} is empty`, 'give it a name');
      return Number.NaN;
    });
    if (this.#faults.count === before) this.#form.take({ values, fields });
  }
}
