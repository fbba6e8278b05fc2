/**
 * The columns of a table that another program wrote: names by several words for one thing, in any capitals; units in the names, in a row
 * below them, in a line above them (`Units: mm, gon`) or given by the user; columns that are not asked for left, and told.
 */
import { commonUnit, fromUnit, type Unit } from '../../quantity/unit.ts';
import type { UnitSource } from '../../scenario/point-table.ts';
import { type ColumnName, columnName } from './column-name.ts';
import type { Spot, TableFaults } from './table-faults.ts';
import type { ForeignForm } from './table-reader.ts';
import type { TextField } from './table-scanner.ts';

type Measure = 'length' | 'angle';

/** What the user says of the table. */
export interface SaidOfTable {
  /** Of columns that do not say theirs. */
  readonly units: Readonly<Partial<Record<Measure, Unit>>>;
  readonly columns: readonly string[] | undefined;
  readonly decimal: 'point' | 'comma' | undefined;
}

/** `Units: mm, deg`, whatever signs stand before it. */
const UNITS_LINE = /^\W*(?:length |linear |angle |angular |angles? and length )?units?\b\W*(?<units>.*)$/i;

export class ForeignColumns implements ForeignForm {
  readonly columns: readonly string[] | undefined;
  readonly decimal: 'point' | 'comma' | undefined;
  readonly left: string[] = [];
  /** From 1. */
  readonly linesPassedOver: number[] = [];
  readonly #faults: TableFaults;
  readonly #stems: ReadonlyMap<string, string>;
  readonly #unclear: ReadonlyMap<string, readonly [string, string]>;
  readonly #units: Partial<Record<Measure, { unit: Unit; from: UnitSource }>> = {};

  /**
   * `names` has the words for each stem, in small letters and with blanks between; `unclear` words that may mean two things, with what is
   * wrong with them and what to do.
   */
  constructor(
    faults: TableFaults,
    said: SaidOfTable,
    names: Readonly<Record<string, readonly string[]>>,
    unclear: Readonly<Record<string, readonly [string, string]>>,
  ) {
    this.#faults = faults;
    this.#stems = new Map(
      Object.entries(names).flatMap(([stem, words]) => [stem, ...words].map((word) => [word, stem])),
    );
    this.#unclear = new Map(Object.entries(unclear));
    this.columns = said.columns;
    this.decimal = said.decimal;
    for (const measure of ['length', 'angle'] as const) {
      const unit = said.units[measure];
      if (unit !== undefined) this.#units[measure] = { unit, from: 'option' };
    }
  }

  isColumn(text: string): boolean {
    const { stem } = this.said(text);
    return this.#stems.has(stem) || this.#unclear.has(stem);
  }

  /** By the whole name first: `target name` has no unit. What stands behind the last blank is a unit only if it is known as one. */
  said(name: string): ColumnName {
    const known = (words: string): string | undefined =>
      this.#stems.get(words) ?? (this.#unclear.has(words) ? words : undefined);
    const whole = known(plain(name));
    if (whole !== undefined) return { stem: whole, unit: undefined };
    const { stem, unit = '' } = columnName(name);
    const found = known(plain(stem));
    const spelt = inLetters(unit);
    if (found === undefined || (commonUnit(spelt) === undefined && !/[\])]$/.test(name)))
      return { stem: name, unit: undefined };
    return { stem: found, unit: spelt };
  }

  /** A column that is not asked for. */
  leave(field: TextField): void {
    const unclear = this.#unclear.get(this.said(field.text).stem);
    if (unclear !== undefined)
      this.#faults.add(field, `column ${JSON.stringify(field.text)} ${unclear[0]}`, unclear[1]);
    else if (field.text !== LEFT) this.left.push(field.text);
  }

  passed(whole: Spot): void {
    this.linesPassedOver.push(whole.line + 1);
    this.above(whole.lineText, whole);
  }

  /** A line above the rows, a comment or not: it may say the units. One that names two of a kind says nothing. */
  above(line: string, whole: Spot): void {
    const said = UNITS_LINE.exec(line)?.groups?.units;
    if (said === undefined) return;
    const units = said.split(/[^\p{L}°]+/u).flatMap((word) => commonUnit(inLetters(word)) ?? []);
    for (const measure of ['length', 'angle'] as const) {
      const [unit, ...others] = units.filter(({ dimension }) => dimension === measure);
      if (unit === undefined || others.length > 0) continue;
      const before = this.#units[measure];
      if (before === undefined) this.#units[measure] = { unit, from: 'line' };
      else if (!isSame(before.unit, unit)) {
        const by =
          before.from === 'option'
            ? `\`--unit ${before.unit.name}\``
            : `an earlier line (${before.unit.name})`;
        this.#faults.add(whole, `this line says ${unit.name}, against ${by}`, 'correct one of the two');
      }
    }
  }

  unitElsewhere(measure: 'name' | Measure): { readonly unit: Unit; readonly from: UnitSource } | undefined {
    return measure === 'name' ? undefined : this.#units[measure];
  }

  /** A unit of this kind that stands alone in a field, in brackets or not. */
  unitIn(text: string, measure: 'name' | Measure): Unit | undefined {
    const unit = commonUnit(inLetters(text.replace(/^[[(](.*)[\])]$/, '$1').trim()));
    return unit?.dimension === measure ? unit : undefined;
  }
}

/** For a column without a name of its own in `--columns`. */
const LEFT = '-';

/** Units of one size under two names. */
export const isSame = (one: Unit, other: Unit): boolean => fromUnit(1, one) === fromUnit(1, other);

/** The unit as it is spelt in the program: `MM` is mm, but `mm` is never read as Mm. */
export const inLetters = (unit: string): string =>
  commonUnit(unit) === undefined && commonUnit(unit.toLowerCase()) !== undefined ? unit.toLowerCase() : unit;

/** Small letters, one blank between words. */
const plain = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[\s_.-]+/g, ' ')
    .trim();
