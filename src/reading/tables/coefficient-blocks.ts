/** Rows of a coefficient table gathered into blocks, one a patch and basis; each fault with its field. */
import type { Place } from '../../finding/finding.ts';
import {
  TABLE_BASES,
  type TableBasis,
  type TableBlock,
  type TableConvention,
  type TableTerm,
} from '../../scenario/coefficient-table.ts';
import type { TableColumns, TableQuantity } from './coefficient-columns.ts';
import { placeAt, type TableFaults } from './table-faults.ts';
import type { TextField } from './text-fields.ts';

const NUMBER = /^([+-]?)(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d{1,3}))?$/;
const WHOLE = /^[+-]?\d{1,4}$/;
/** Powers and radial orders read; the package's own stay at 20. */
const HIGHEST_DEGREE = 60;
/** Past this a coefficient or a length, in its own column's unit, is a slip of the exponent. */
const LARGEST = 1e15;
/** Two rows of a block give the same centre and radius, against the radius: roundings of another unit's digits stay below. */
const SAME_FRAME = 1e-9;

interface Gathered extends TableBlock {
  readonly terms: TableTerm[];
  readonly seen: Set<string>;
}

export class TableBlocks {
  readonly #columns: TableColumns;
  readonly #convention: TableConvention;
  readonly #faults: TableFaults;
  readonly #file: string;
  readonly #blocks = new Map<string, Gathered>();

  constructor(columns: TableColumns, convention: TableConvention, faults: TableFaults, file: string) {
    this.#columns = columns;
    this.#convention = convention;
    this.#faults = faults;
    this.#file = file;
  }

  get isEmpty(): boolean {
    return this.#blocks.size === 0;
  }

  /** Line from 0. */
  add(line: number, fields: readonly TextField[]): void {
    const faultsBefore = this.#faults.list.length;
    const row = this.#readRow(line, fields);
    if (row === undefined || this.#faults.list.length > faultsBefore) return;
    const key = `${row.basis} ${row.patch}`;
    const block = this.#blocks.get(key);
    if (block === undefined) {
      this.#blocks.set(key, { ...row.block, terms: [row.term], seen: new Set([row.powers]) });
      return;
    }
    const what = `patch ${row.patch}, basis ${row.basis}`;
    if (!sameFrame(block, row.block))
      this.#fault(
        line,
        fields,
        'unitRadius',
        `${what}: centre, normalisation radius or order differ from those of line ${block.place.line}`,
        'give the rows of one basis one centre, one radius and one order',
      );
    if (block.seen.has(row.powers))
      this.#fault(
        line,
        fields,
        'i',
        `${what}: the term ${row.powers} appears twice`,
        'keep one of the two rows',
      );
    block.seen.add(row.powers);
    block.terms.push(row.term);
  }

  /** The blocks, after all rows; a roof needs its three numbers. */
  closed(): readonly TableBlock[] {
    for (const { basis, patch, place, seen } of this.#blocks.values()) {
      if (basis === 'roof' && seen.size < 3)
        this.#faults.add(
          place.line - 1,
          place.column - 1,
          1,
          `patch ${patch}: the roof has ${seen.size} of its three rows`,
          'give c0, c1 and c2, with i,j = 0,0, 1,0 and 0,1',
        );
    }
    return [...this.#blocks.values()].map(({ seen: _, ...block }) => block);
  }

  #readRow(line: number, fields: readonly TextField[]) {
    const patch = this.#text(fields, 'patch');
    const basis = TABLE_BASES.find((name) => name === this.#text(fields, 'basis'));
    if (patch === '')
      this.#fault(line, fields, 'patch', 'the patch is missing', 'name the patch that the row belongs to');
    if (basis === undefined) {
      this.#fault(
        line,
        fields,
        'basis',
        `${JSON.stringify(this.#text(fields, 'basis'))} is not a basis`,
        `write ${TABLE_BASES.join(', ')}`,
      );
      return undefined;
    }
    const [i, j] = [this.#whole(line, fields, 'i'), this.#whole(line, fields, 'j')];
    const order = this.#columns.of('order') === undefined ? undefined : this.#whole(line, fields, 'order');
    if (order === 0) this.#fault(line, fields, 'order', 'order 0 is undiffracted', 'give the working order');
    const unitRadius = this.#number(line, fields, 'unitRadius')?.value;
    const centre = [
      this.#number(line, fields, 'centreX')?.value,
      this.#number(line, fields, 'centreY')?.value,
    ];
    const coefficient = this.#number(line, fields, 'coefficient');
    if (unitRadius !== undefined && !(unitRadius > 0))
      this.#fault(
        line,
        fields,
        'unitRadius',
        'the normalisation radius is not positive',
        'give a length above 0',
      );
    if (i === undefined || j === undefined || unitRadius === undefined || coefficient === undefined)
      return undefined;
    if (!isTerm(basis, i, j)) {
      this.#fault(line, fields, 'i', `there is no term ${i},${j} of basis ${basis}`, TERM_HINTS[basis]);
      return undefined;
    }
    const plain = basis === 'roof' && i + j > 0;
    const scale = plain ? 1 / this.#columns.of('coefficient')!.scale : this.#phaseScale(order);
    const term: TableTerm = {
      i,
      j,
      coefficient: coefficient.value * scale,
      lastDigit: Math.abs(coefficient.lastDigit * scale),
      digits: coefficient.digits,
    };
    const place = this.#place(line, fields, 'patch');
    const block = { patch, basis, centre: [centre[0]!, centre[1]!] as const, unitRadius, order, place };
    return { patch, basis, powers: `${i},${j}`, term, block };
  }

  #phaseScale(order: number | undefined): number {
    const { sign, phaseAt } = this.#convention;
    return phaseAt === 'order m' && order !== undefined ? sign / order : sign;
  }

  #text(fields: readonly TextField[], quantity: TableQuantity): string {
    return fields[this.#columns.of(quantity)!.position]!.text;
  }

  #whole(line: number, fields: readonly TextField[], quantity: TableQuantity): number | undefined {
    const text = this.#text(fields, quantity);
    if (WHOLE.test(text)) return Number(text) + 0;
    this.#fault(
      line,
      fields,
      quantity,
      `${JSON.stringify(text)} is not an integer`,
      `give ${quantity} as an integer`,
    );
    return undefined;
  }

  /** In mm, waves or plain; its last digit's worth likewise. */
  #number(line: number, fields: readonly TextField[], quantity: TableQuantity) {
    const { scale, name } = this.#columns.of(quantity)!;
    const text = this.#text(fields, quantity);
    const parts = NUMBER.exec(text);
    if (parts === null || !(Math.abs(Number(text)) <= LARGEST)) {
      const comma = /^[+-]?\d*,\d+$/.test(text)
        ? 'write a decimal point, not a comma'
        : `write a decimal number of at most ${LARGEST}`;
      this.#fault(line, fields, quantity, `${JSON.stringify(text)} is not a valid number for ${name}`, comma);
      return undefined;
    }
    const [, , mantissa, exponent = '0'] = parts;
    const decimals = mantissa!.includes('.') ? mantissa!.length - mantissa!.indexOf('.') - 1 : 0;
    return {
      value: Number(text) * scale,
      lastDigit: 10 ** (Number(exponent) - decimals) * scale,
      digits: mantissa!.replace('.', '').replace(/^0+/, '').length,
    };
  }

  #fault(
    line: number,
    fields: readonly TextField[],
    quantity: TableQuantity,
    message: string,
    hint: string,
  ): void {
    const { at, width } = fields[this.#columns.of(quantity)!.position]!;
    this.#faults.add(line, at, width, message, hint);
  }

  #place(line: number, fields: readonly TextField[], quantity: TableQuantity): Place {
    const { at, width } = fields[this.#columns.of(quantity)!.position]!;
    return placeAt(this.#file, line, at, width);
  }
}

function isTerm(basis: TableBasis, i: number, j: number): boolean {
  if (basis === 'xy') return i >= 0 && j >= 0 && i + j <= HIGHEST_DEGREE;
  if (basis === 'roof') return i >= 0 && j >= 0 && i + j <= 1;
  return i >= 0 && i <= HIGHEST_DEGREE && Math.abs(j) <= i && (i - j) % 2 === 0;
}

const TERM_HINTS: Readonly<Record<TableBasis, string>> = {
  xy: `i and j are powers of u and v, 0 or more, their sum at most ${HIGHEST_DEGREE}`,
  zernike: `i is the radial order n, at most ${HIGHEST_DEGREE}, j the azimuthal order m, n - |m| even and 0 or more`,
  roof: 'i,j are 0,0 for c0, 1,0 for c1 and 0,1 for c2',
};

function sameFrame(a: TableBlock | Omit<TableBlock, 'terms'>, b: Omit<TableBlock, 'terms'>): boolean {
  const near = (p: number, q: number): boolean => Math.abs(p - q) <= SAME_FRAME * a.unitRadius;
  return (
    a.order === b.order &&
    near(a.unitRadius, b.unitRadius) &&
    near(a.centre[0], b.centre[0]) &&
    near(a.centre[1], b.centre[1])
  );
}
