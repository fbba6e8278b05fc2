/**
 * The functions that an expression may call, with what they take and give. Angles are radians inside; a trigonometric
 * function takes an angle, never a bare number, since a bare angle elsewhere in a scenario is in degrees.
 */
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
const number = (): Exponents => EXPONENTS.number;
const angle = (): Exponents => EXPONENTS.angle;
const MANY = 20;

const ofAngle = (apply: (value: number) => number): FunctionRow => ({
  least: 1,
  most: 1,
  takes: EXPONENTS.angle,
  gives: number,
  apply,
});
const toAngle = (apply: (value: number) => number): FunctionRow => ({
  least: 1,
  most: 1,
  takes: EXPONENTS.number,
  gives: angle,
  apply,
});

const FUNCTIONS: ReadonlyMap<string, FunctionRow> = new Map<string, FunctionRow>([
  [
    'sqrt',
    {
      least: 1,
      most: 1,
      takes: 'alike',
      gives: (exponents) => exponents.map((e) => e / 2) as unknown as Exponents,
      apply: Math.sqrt,
    },
  ],
  ['abs', { least: 1, most: 1, takes: 'alike', gives: same, apply: Math.abs }],
  ['min', { least: 1, most: MANY, takes: 'alike', gives: same, apply: Math.min }],
  ['max', { least: 1, most: MANY, takes: 'alike', gives: same, apply: Math.max }],
  ['hypot', { least: 2, most: MANY, takes: 'alike', gives: same, apply: Math.hypot }],
  ['sin', ofAngle(Math.sin)],
  ['cos', ofAngle(Math.cos)],
  ['tan', ofAngle(Math.tan)],
  ['asin', toAngle(Math.asin)],
  ['acos', toAngle(Math.acos)],
  ['atan', toAngle(Math.atan)],
  ['atan2', { least: 2, most: 2, takes: 'alike', gives: angle, apply: Math.atan2 }],
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
  const first = args[0]!.quantity;
  for (const { spelling, quantity } of args) checkArgument(name, row, spelling, quantity, args[0]!);
  return {
    value: row.apply(...args.map(({ quantity }) => quantity.value)),
    exponents: row.gives(first.exponents),
    celsius: first.celsius,
    bare: row.takes === 'alike' && name !== 'atan2' && args.every(({ quantity }) => quantity.bare),
  };
}

function checkArgument(
  name: string,
  row: FunctionRow,
  spelling: string,
  quantity: Quantity,
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
