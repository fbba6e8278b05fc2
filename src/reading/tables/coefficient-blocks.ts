/** Rows of a coefficient table gathered into blocks, one a patch and basis; each fault with its field. */
import { powerOfTen } from '../../quantity/power.ts';
import {
  TABLE_BASES,
  type TableBasis,
  type TableBlock,
  type TableConvention,
  type TableTerm,
} from '../../scenario/coefficient-table.ts';
import type { TableColumns, TableQuantity } from './coefficient-columns.ts';
import { numberIn, withAsciiMinus } from './number-field.ts';
import { placeAt, type TableFaults } from './table-faults.ts';
import type { TextField } from './table-scanner.ts';

const DIGITS = /^[+-]?([\d.]+)(?:[eE]([+-]?\d+))?$/;
const WHOLE = /^[+-]?\d{1,4}$/;
/** Powers and radial orders read; the package's own stay at 20. */
const HIGHEST_DEGREE = 60;
/** Past this a coefficient or a length, in its own column's unit, is a slip of the exponent. */
const LARGEST = 1e15;
/** Two rows of a block give the same centre and radius, against the radius: roundings of another unit's digits stay below. */
const SAME_FRAME = 1e-9;

/** What a row says of its whole block. */
type Head = Omit<TableBlock, 'terms'>;

interface Gathered extends TableBlock {
  readonly terms: TableTerm[];
  readonly seen: Set<string>;
}

export class TableBlocks {
  readonly #columns: TableColumns;
  readonly #faults: TableFaults;
  readonly #file: string;
  readonly #blocks = new Map<string, Gathered>();

  constructor(columns: TableColumns, faults: TableFaults, file: string) {
    this.#columns = columns;
    this.#faults = faults;
    this.#file = file;
  }

  /** One row, a field for each column. */
  add(fields: readonly TextField[]): void {
    const faultsBefore = this.#faults.count;
    const field = (quantity: TableQuantity): TextField => fields[this.#columns.of(quantity)!.position]!;
    const row = this.#readRow(field);
    if (row === undefined || this.#faults.count > faultsBefore) return;
    const { head, term, powers } = row;
    const key = `${head.basis} ${head.patch}`;
    const block = this.#blocks.get(key);
    if (block === undefined) {
      this.#blocks.set(key, { ...head, terms: [term], seen: new Set([powers]) });
      return;
    }
    const what = `patch ${head.patch}, basis ${head.basis}`;
    if (!sameFrame(block, head)) {
      const message = `${what}: centre, normalisation radius or order differ from those of line ${block.place.line}`;
      const hint = 'give the rows of one basis one centre, one radius and one order';
      this.#faults.add(field('unitRadius'), message, hint);
    }
    if (block.seen.has(powers))
      this.#faults.add(field('i'), `${what}: the term ${powers} appears twice`, 'keep one of the two rows');
    block.seen.add(powers);
    block.terms.push(term);
  }

  /** The blocks, after all rows, as `convention` has their signs and orders; a roof needs its three numbers. */
  closed(convention: TableConvention): readonly TableBlock[] {
    for (const { basis, patch, place, seen } of this.#blocks.values()) {
      if (basis !== 'roof' || seen.size === 3) continue;
      const spot = { line: place.line - 1, at: place.column - 1, width: 1, lineText: place.lineText ?? '' };
      const message = `patch ${patch}: the roof has ${seen.size} of its three rows`;
      this.#faults.add(spot, message, 'give c0, c1 and c2, with i,j = 0,0, 1,0 and 0,1');
    }
    return [...this.#blocks.values()].map(({ seen: _, ...block }) => {
      const scale = phaseScale(convention, block.order);
      const terms = block.terms.map((term) => (isSlope(block.basis, term) ? term : scaled(term, scale)));
      return { ...block, terms };
    });
  }

  #readRow(field: (quantity: TableQuantity) => TextField) {
    const fault = (at: TableQuantity, message: string, hint: string): void =>
      this.#faults.add(field(at), message, hint);
    const patch = field('patch').text;
    const name = field('basis').text;
    const basis = TABLE_BASES.find((known) => known === name);
    if (patch === '') fault('patch', 'the patch is missing', 'name the patch that the row belongs to');
    if (basis === undefined) {
      fault('basis', `${JSON.stringify(name)} is not a basis`, `write ${TABLE_BASES.join(', ')}`);
      return undefined;
    }
    const whole = (quantity: 'i' | 'j' | 'order'): number | undefined => {
      const { text } = field(quantity);
      if (WHOLE.test(text)) return Number(text) + 0;
      fault(quantity, `${JSON.stringify(text)} is not an integer`, `give ${quantity} as an integer`);
      return undefined;
    };
    const [i, j] = [whole('i'), whole('j')];
    const order = this.#columns.of('order') === undefined ? undefined : whole('order');
    if (order === 0) fault('order', 'order 0 is undiffracted', 'give the working order');
    const number = (quantity: TableQuantity) => this.#number(quantity, field(quantity));
    const unitRadius = number('unitRadius')?.value;
    const [x, y] = [number('centreX')?.value, number('centreY')?.value];
    const coefficient = number('coefficient');
    if (unitRadius !== undefined && !(unitRadius > 0))
      fault('unitRadius', 'the normalisation radius is not positive', 'give a length above 0');
    if (i === undefined || j === undefined || unitRadius === undefined || coefficient === undefined)
      return undefined;
    if (!isTerm(basis, i, j)) {
      fault('i', `there is no term ${i},${j} of basis ${basis}`, TERM_HINTS[basis]);
      return undefined;
    }
    const { value, lastDigit, digits } = coefficient;
    const given: TableTerm = { i, j, coefficient: value, lastDigit, digits };
    const unit = this.#columns.of('coefficient')!.scale;
    const term = isSlope(basis, given) ? scaled(given, 1 / unit) : given;
    const place = placeAt(this.#file, field('patch'));
    const head: Head = { patch, basis, centre: [x!, y!], unitRadius, order, place };
    return { head, powers: `${i},${j}`, term };
  }

  /** In mm, waves or plain; its last digit's worth likewise. */
  #number(quantity: TableQuantity, field: TextField) {
    const { scale, name } = this.#columns.of(quantity)!;
    const value = numberIn(field, name, LARGEST, this.#faults);
    if (value === undefined) return undefined;
    const [, mantissa, exponent = '0'] = DIGITS.exec(withAsciiMinus(field.text))!;
    const decimals = mantissa!.includes('.') ? mantissa!.length - mantissa!.indexOf('.') - 1 : 0;
    return {
      value: value * scale,
      lastDigit: powerOfTen(Number(exponent) - decimals) * scale,
      digits: mantissa!.replace('.', '').replace(/^0+/, '').length,
    };
  }
}

/** A roof's c1 and c2 are plain numbers, whatever the column's unit. */
const isSlope = (basis: TableBasis, { i, j }: TableTerm): boolean => basis === 'roof' && i + j > 0;

const scaled = (term: TableTerm, scale: number): TableTerm => ({
  ...term,
  coefficient: term.coefficient * scale,
  lastDigit: Math.abs(term.lastDigit * scale),
});

/** Of a phase at order 1 as the program has it, in one as the table's head states it. */
const phaseScale = ({ sign, phaseAt }: TableConvention, order: number | undefined): number =>
  phaseAt === 'order m' && order !== undefined ? sign / order : sign;

function isTerm(basis: TableBasis, i: number, j: number): boolean {
  if (basis === 'xy') return i >= 0 && j >= 0 && i + j <= HIGHEST_DEGREE;
  if (basis === 'radial') return i >= 0 && 2 * i <= HIGHEST_DEGREE && j === 0;
  if (basis === 'roof') return i >= 0 && j >= 0 && i + j <= 1;
  return i >= 0 && i <= HIGHEST_DEGREE && Math.abs(j) <= i && (i - j) % 2 === 0;
}

const TERM_HINTS: Readonly<Record<TableBasis, string>> = {
  xy: `i and j are powers of u and v, 0 or more, their sum at most ${HIGHEST_DEGREE}`,
  radial: `i is the power of rho^2, 0 to ${HIGHEST_DEGREE / 2}, and j is 0`,
  zernike: `i is the radial order n, at most ${HIGHEST_DEGREE}, j the azimuthal order m, n - |m| even and 0 or more`,
  roof: 'i,j are 0,0 for c0, 1,0 for c1 and 0,1 for c2',
};

function sameFrame(a: Head, b: Head): boolean {
  const near = (p: number, q: number): boolean => Math.abs(p - q) <= SAME_FRAME * a.unitRadius;
  return (
    a.order === b.order &&
    near(a.unitRadius, b.unitRadius) &&
    near(a.centre[0], b.centre[0]) &&
    near(a.centre[1], b.centre[1])
  );
}
