/**
 * The functions that an expression may call, with what they take and give. Angles are radians inside; a trigonometric
 * function takes an angle, never a bare number, since a bare angle elsewhere in a scenario is in degrees.
 */
import {
  portableAcos,
  portableAsin,
  portableAtan,
  portableAtan2,
  portableCos,
  portableSin,
  portableTan,
} from '../algebra/portable/math.ts';
import { EXPONENTS, type Exponents, sameExponents } from './dimension.ts';
import { didYouMean } from './nearest-name.ts';
import { ProblemError, quote } from './problem.ts';
import { describeQuantity, type Quantity } from './quantity.ts';

interface Argument {
  readonly spelling: string;
  readonly quantity: Quantity;
}

interface FunctionRow {
  readonly least: number;
  readonly most: number;
  /** What every argument must measure; 'alike': all the same. */
  readonly takes: Exponents | 'alike';
  /** What the result measures, from what the first argument does. */
  readonly gives: (exponents: Exponents) => Exponents;
  readonly apply: (...values: number[]) => number;
}

const same = (exponents: Exponents): Exponents => exponents;
const halved = (exponents: Exponents): Exponents => exponents.map((e) => e / 2) as unknown as Exponents;
const number = (): Exponents => EXPONENTS.number;
const angle = (): Exponents => EXPONENTS.angle;
const MANY = 20;

const row = (
  takes: FunctionRow['takes'],
  gives: FunctionRow['gives'],
  apply: FunctionRow['apply'],
  least = 1,
  most = least,
): FunctionRow => ({ least, most, takes, gives, apply });

const FUNCTIONS: ReadonlyMap<string, FunctionRow> = new Map([
  ['sqrt', row('alike', halved, Math.sqrt)],
  ['abs', row('alike', same, Math.abs)],
  ['min', row('alike', same, Math.min, 1, MANY)],
  ['max', row('alike', same, Math.max, 1, MANY)],
  ['hypot', row('alike', same, Math.hypot, 2, MANY)],
  ['sin', row(EXPONENTS.angle, number, portableSin)],
  ['cos', row(EXPONENTS.angle, number, portableCos)],
  ['tan', row(EXPONENTS.angle, number, portableTan)],
  ['asin', row(EXPONENTS.number, angle, portableAsin)],
  ['acos', row(EXPONENTS.number, angle, portableAcos)],
  ['atan', row(EXPONENTS.number, angle, portableAtan)],
  ['atan2', row('alike', angle, portableAtan2, 2)],
]);

export const FUNCTION_NAMES: readonly string[] = [...FUNCTIONS.keys()];

/** The value of a call. `parameters` are the names that a reader may have meant instead. Throws a ProblemError. */
export function callFunction(
  name: string,
  args: readonly Argument[],
  parameters: Iterable<string>,
): Quantity {
  const row = FUNCTIONS.get(name);
  if (row === undefined) throw unknownFunction(name, parameters);
  if (args.length < row.least || args.length > row.most) {
    const wanted = row.least === row.most ? `${row.least}` : `${row.least} or more`;
    throw new ProblemError(
      'bad-expression',
      `\`${name}\` takes ${wanted} argument${wanted === '1' ? '' : 's'}, got ${args.length}`,
      'separate arguments by commas',
    );
  }
  const first = args[0]!;
  for (const argument of args) checkArgument(name, row, argument, first);
  return {
    value: row.apply(...args.map(({ quantity }) => quantity.value)),
    exponents: row.gives(first.quantity.exponents),
    celsius: first.quantity.celsius,
    bare: row.takes === 'alike' && name !== 'atan2' && args.every(({ quantity }) => quantity.bare),
  };
}

function checkArgument(
  name: string,
  row: FunctionRow,
  { spelling, quantity }: Argument,
  first: Argument,
): void {
  const takes = row.takes === 'alike' ? first.quantity.exponents : row.takes;
  const mixedScales = quantity.celsius !== first.quantity.celsius;
  if (!sameExponents(quantity.exponents, takes) || mixedScales) {
    const [expected, hint] =
      row.takes === 'alike'
        ? [
            `${quote(first.spelling)} is ${describeQuantity(first.quantity)}`,
            'all arguments must be the same kind of quantity',
          ]
        : takes === EXPONENTS.angle
          ? ['an angle was expected', 'give it a unit, e.g. `30 deg`']
          : ['a plain number was expected', 'divide by a length or an angle'];
    throw new ProblemError(
      'unit-mismatch',
      `\`${name}\` was given ${quote(spelling)}, ${describeQuantity(quantity)}; ${expected}`,
      hint,
    );
  }
  if (quantity.celsius && name !== 'min' && name !== 'max') {
    throw new ProblemError('unit-mismatch', `\`${name}\` cannot take a temperature in °C`, 'use kelvin');
  }
}

function unknownFunction(name: string, parameters: Iterable<string>): ProblemError {
  if ([...parameters].includes(name)) {
    return new ProblemError(
      'bad-expression',
      `\`${name}\` is a parameter, not a function`,
      `write \`${name} * (…)\``,
    );
  }
  return new ProblemError(
    'unknown-name',
    `there is no function ${quote(name)}`,
    didYouMean(name, FUNCTION_NAMES) ?? `known: ${FUNCTION_NAMES.join(', ')}`,
  );
}
