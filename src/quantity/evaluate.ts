/**
 * From a number or a text of the scenario to a value in the program's unit (mm, rad, °C, Pa, W, plain).
 * Plain numbers, `number unit` and single parameter names are read here directly; only real expressions load mathjs.
 * Both ways give the same bits.
 */
import { type Dimension, describeDimension, dimensionOf, HOUSE_UNIT } from './dimension.ts';
import { evaluate, type Scope, unknownUnit, valueOfName } from './expression.ts';
import { parse } from './parse-expression.ts';
import { FaultyParameter, type Problem, ProblemError, quote } from './problem.ts';
import {
  bareNumber,
  describeQuantity,
  isNumber,
  type Quantity,
  quantityOf,
  showValue,
  ZERO_CELSIUS_IN_KELVIN,
} from './quantity.ts';
import { commonUnit, unitNamed } from './unit.ts';

export type { Scope } from './expression.ts';

/** A value; or a problem; or neither, where a parameter is at fault that is reported by itself. */
type Evaluation =
  | { readonly value: number; readonly problem?: never }
  | { readonly value?: never; readonly problem: Problem | undefined };

/** Largest length of a scenario, mm: ten kilometres, beyond any bench. */
const LONGEST_LENGTH = 1e7;
/** Largest angle, rad: a thousand turns. */
const LARGEST_ANGLE = 2000 * Math.PI;

/**
 * The value of `given`, which must measure `expects`. A bare number takes the house's unit: mm, degrees, °C, Pa, W.
 * Never throws for any text.
 */
export function evaluateQuantity(given: string | number, expects: Dimension, scope: Scope): Evaluation {
  return settled(() => inProgramUnit(readQuantity(given, scope), expects, given));
}

/** The quantity that a text or number stands for, of any dimension. Throws a ProblemError, or FaultyParameter. */
export function readQuantity(given: string | number, scope: Scope): Quantity {
  const quantity = typeof given === 'number' ? bareNumber(given) : readText(given.trim(), scope);
  if (!Number.isFinite(quantity.value)) {
    throw new ProblemError(
      'out-of-range',
      `${quote(String(given))} evaluates to ${quantity.value}, which is not finite`,
      'check for a division by zero, a root of a negative number, or a number that is too large',
    );
  }
  return quantity.value === 0 ? { ...quantity, value: 0 } : quantity;
}

/** What `work` returns, or the problem it ended with. */
export function settled(work: () => number): Evaluation {
  try {
    return { value: work() };
  } catch (error) {
    if (error instanceof ProblemError) return { problem: error.problem };
    if (error instanceof FaultyParameter) return { problem: undefined };
    throw error;
  }
}

/** A number, or a number and one unit: what is read without a parser. */
export const LITERAL =
  /^([+-]?)((?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z\u00b5\u03bc\u00b0\u00c5\u2103\u212b]+|%)?$/;
/** A parameter's name. */
export const NAME = /^[A-Za-z_][A-Za-z0-9_]{0,63}$/;

function readText(text: string, scope: Scope): Quantity {
  const literal = text.length <= 64 ? LITERAL.exec(text) : null;
  if (literal !== null) {
    const value = literal[1] === '-' ? -Number(literal[2]) : Number(literal[2]);
    const name = literal[3];
    if (name === undefined) return bareNumber(value);
    const unit = commonUnit(name) ?? (scope.has(name) ? undefined : unitNamed(name));
    if (unit !== undefined) return quantityOf(value, unit);
    if (!scope.has(name)) throw unknownUnit(name);
  }
  if (NAME.test(text)) return valueOfName(text, scope);
  return evaluate(parse(text), scope);
}

function inProgramUnit(quantity: Quantity, expects: Dimension, given: string | number): number {
  const value = converted(quantity, expects, given) + 0;
  const limit =
    expects === 'length' ? LONGEST_LENGTH : expects === 'angle' ? LARGEST_ANGLE : Number.MAX_VALUE;
  if (Math.abs(value) > limit) {
    throw new ProblemError(
      'out-of-range',
      `${quote(String(given))} is ${showValue(value, expects)}, beyond the limit of ±${showValue(limit, expects)}`,
      'check the unit',
    );
  }
  return value;
}

function converted(quantity: Quantity, expects: Dimension, given: string | number): number {
  const dimension = dimensionOf(quantity.exponents);
  if (dimension === expects) {
    return dimension === 'temperature' && !quantity.celsius
      ? quantity.value - ZERO_CELSIUS_IN_KELVIN
      : quantity.value;
  }
  if (isNumber(quantity) && quantity.bare) {
    return quantityOf(quantity.value, unitNamed(HOUSE_UNIT[expects])!).value;
  }
  const wanted = describeDimension(expects);
  const hint =
    expects === 'number'
      ? 'write a number without a unit'
      : isNumber(quantity)
        ? `multiply by a unit, e.g. \`… * 1 ${expects === 'angle' ? 'rad' : HOUSE_UNIT[expects]}\``
        : `write ${wanted} such as \`${EXAMPLE[expects]}\``;
  throw new ProblemError(
    'unit-mismatch',
    `expected ${wanted}, got ${quote(String(given))}, ${describeQuantity(quantity)}`,
    hint,
  );
}

const EXAMPLE: { readonly [dimension in Dimension]: string } = {
  length: '12.5 mm',
  angle: '30 deg',
  temperature: '20 degC',
  pressure: '101.3 kPa',
  power: '1 mW',
  number: '3',
};
