/**
 * Whether the numbers of a table have a decimal point or a decimal comma: as the user says, otherwise as the numbers that can be read in one
 * way only show. `1,5` has a decimal comma; `1,234` may be one and a quarter or a thousand; both signs in one table are refused. Numbers with
 * their thousands marked are none.
 */
import { hasDecimalComma } from './number-field.ts';
import type { TableFaults } from './table-faults.ts';
import type { TextField } from './table-scanner.ts';

type Sign = 'point' | 'comma';

/** One comma, digits on one side of it at least. */
const ONE_COMMA = /^[+-]?(?:\d*,\d+|\d+,)(?:[eE][+-]?\d+)?$/;
/** What may be a number of thousands as well. */
const LIKE_THOUSANDS = /^[+-]?[1-9]\d{0,2},\d{3}$/;

export class DecimalSign {
  readonly #given: Sign | undefined;
  readonly #faults: TableFaults;
  /** The first number that can be read in one way only. */
  #shown: { readonly sign: Sign; readonly field: TextField } | undefined;
  #unclear: TextField | undefined;

  constructor(given: Sign | undefined, faults: TableFaults) {
    this.#given = given;
    this.#faults = faults;
  }

  /** What the numbers were read with; a point where none has either. */
  get sign(): Sign {
    return this.#given ?? this.#shown?.sign ?? 'point';
  }

  /** The number of this field with a decimal point; its own text where it is none; undefined where its sign contradicts, which is told. */
  plain(field: TextField, text: string): string | undefined {
    const sign = ONE_COMMA.test(text)
      ? 'comma'
      : text.includes('.') && !hasDecimalComma(text)
        ? 'point'
        : undefined;
    if (sign === undefined) return text;
    const other = this.#given ?? this.#shown?.sign;
    if (other !== undefined && other !== sign) {
      this.#contradicts(field, sign);
      return undefined;
    }
    if (sign === 'comma' && LIKE_THOUSANDS.test(text)) this.#unclear ??= field;
    else this.#shown ??= { sign, field };
    return text.replace(',', '.');
  }

  /** After the last row. */
  end(): void {
    if (this.#unclear === undefined || this.#given !== undefined) return;
    if (this.#shown?.sign === 'point') this.#contradicts(this.#unclear, 'comma');
    if (this.#shown !== undefined) return;
    const message = `${JSON.stringify(this.#unclear.text)} may have a decimal comma or mark a thousand, and no other number of the table tells`;
    this.#faults.add(this.#unclear, message, 'say `--decimal comma`, or write decimal points');
  }

  #contradicts(field: TextField, sign: Sign): void {
    const because =
      this.#given !== undefined
        ? `\`--decimal ${this.#given}\` is given`
        : `line ${this.#shown!.field.line + 1} has a decimal ${this.#shown!.sign}, ${JSON.stringify(this.#shown!.field.text)}`;
    const message = `${JSON.stringify(field.text)} has a decimal ${sign}, but ${because}`;
    this.#faults.add(field, message, 'use one decimal sign throughout, and mark no thousands');
  }
}
