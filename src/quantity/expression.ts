/**
 * The value of an expression over parameters, such as `rim + smr/2`: a walk of the parsed tree that knows a closed set of
 * nodes and functions and carries what each part measures. Nothing is handed to an evaluator.
 */
import { EXPONENTS, type Exponents, sameExponents } from './dimension.ts';
import { callFunction, FUNCTION_NAMES } from './function.ts';
import { type ExpressionNode, refusal } from './mathjs.ts';
import { didYouMean } from './nearest-name.ts';
import { raised } from './power.ts';
import { FaultyParameter, ProblemError, quote } from './problem.ts';
import { bareNumber, describeQuantity, isNumber, type Quantity, quantityOf } from './quantity.ts';
import { commonUnitNames, type Unit, unitNamed } from './unit.ts';

/** Parameters by name; 'faulty' for one whose own fault is reported already. */
export type Scope = ReadonlyMap<string, Quantity | 'faulty'>;

/** The names in a tree that may be parameters: neither functions nor common units. */
export function namesIn(node: ExpressionNode, names = new Set<string>()): Set<string> {
  if (node.type === 'name') names.add(node.name);
  else if (node.type === 'parenthesis') namesIn(node.content, names);
  else if (node.type !== 'number') for (const part of node.args) namesIn(part, names);
  return names;
}

/** The value of a tree. Throws a ProblemError, or FaultyParameter. */
export function evaluate(node: ExpressionNode, scope: Scope): Quantity {
  switch (node.type) {
    case 'number':
      return bareNumber(node.value);
    case 'parenthesis':
      return evaluate(node.content, scope);
    case 'name':
      return valueOfName(node.name, scope);
    case 'call':
      return callFunction(
        node.name,
        node.args.map((part) => ({ spelling: spell(part), quantity: evaluate(part, scope) })),
        scope.keys(),
      );
    case 'operation':
      return operate(node, scope);
  }
}

/** The value of a name that stands alone: a parameter or pi. */
export function valueOfName(name: string, scope: Scope): Quantity {
  const value = scope.get(name);
  if (value === 'faulty') throw new FaultyParameter(name);
  if (value !== undefined) return value;
  if (name === 'pi') return bareNumber(Math.PI);
  if (FUNCTION_NAMES.includes(name)) {
    throw new ProblemError(
      'bad-expression',
      `the function \`${name}\` needs an argument`,
      `write \`${name}(…)\``,
    );
  }
  if (unitNamed(name) !== undefined) {
    throw new ProblemError('bad-expression', `the unit \`${name}\` needs a number`, `write \`1 ${name}\``);
  }
  const known = [...scope.keys()];
  const listed =
    known.length === 0 ? 'the scenario has no `parameters`' : `known: ${known.slice(0, 12).join(', ')}`;
  throw new ProblemError(
    'unknown-name',
    `there is no parameter ${quote(name)}`,
    didYouMean(name, known) ?? listed,
  );
}

/** A tree as text, for messages. */
function spell(node: ExpressionNode): string {
  switch (node.type) {
    case 'number':
      return String(node.value);
    case 'name':
      return node.name;
    case 'parenthesis':
      return `(${spell(node.content)})`;
    case 'call':
      return `${node.name}(${node.args.map(spell).join(', ')})`;
    case 'operation': {
      const [left, right] = node.args;
      if (right === undefined) return `${node.op}${spell(left!)}`;
      const sign = node.implicit ? ' ' : node.op === '+' || node.op === '-' ? ` ${node.op} ` : node.op;
      return `${spell(left!)}${sign}${spell(right)}`;
    }
  }
}

type Operation = Extract<ExpressionNode, { type: 'operation' }>;

function operate(node: Operation, scope: Scope): Quantity {
  const [left, right] = node.args;
  switch (node.fn) {
    case 'unaryPlus':
      return evaluate(left!, scope);
    case 'unaryMinus': {
      const operand = evaluate(left!, scope);
      return { ...operand, value: -operand.value };
    }
    case 'add':
    case 'subtract':
      return sum(node, scope, node.fn === 'add' ? 1 : -1);
    case 'multiply':
      return node.implicit ? withUnit(left!, right!, scope) : product(node, scope, 1);
    case 'divide':
      if (right!.type === 'operation' && right.implicit) refuseUnitUnderDivision(left!, right);
      return product(node, scope, -1);
    case 'pow':
      return power(evaluateOrUnit(left!, scope), evaluate(right!, scope), spell(right!));
    default:
      throw refusal(`the operator \`${node.op}\``);
  }
}

function sum(node: Operation, scope: Scope, sign: 1 | -1): Quantity {
  const [a, b] = node.args.map((part) => evaluate(part, scope)) as [Quantity, Quantity];
  if (!sameExponents(a.exponents, b.exponents)) {
    const [left, right] = node.args.map((part) => quote(spell(part)));
    const verb = sign > 0 ? 'add' : 'subtract';
    const bare = isNumber(a) ? left : isNumber(b) ? right : undefined;
    throw new ProblemError(
      'unit-mismatch',
      `cannot ${verb}: ${left} is ${describeQuantity(a)}, ${right} ${describeQuantity(b)}`,
      bare === undefined ? 'give both the same kind of quantity' : `give ${bare} a unit, e.g. \`3 mm\``,
    );
  }
  const value = a.value + sign * b.value;
  const bare = a.bare && b.bare;
  if (!a.celsius && !b.celsius) return { value, exponents: a.exponents, celsius: false, bare };
  if (a.celsius && b.celsius && sign < 0) return { value, exponents: a.exponents, celsius: false, bare };
  if (a.celsius !== b.celsius && (a.celsius || sign > 0))
    return { value, exponents: a.exponents, celsius: true, bare };
  throw new ProblemError(
    'unit-mismatch',
    `cannot combine the temperatures in ${quote(spell(node))}: °C has an offset zero`,
    'write the difference in K, e.g. `20 degC + 2 K`',
  );
}

function product(node: Operation, scope: Scope, sign: 1 | -1): Quantity {
  const [a, b] = node.args.map((part) => evaluateOrUnit(part, scope)) as [Quantity, Quantity];
  for (const [i, factor] of [a, b].entries()) if (factor.celsius) refuseScale(spell(node.args[i]!));
  return {
    value: sign > 0 ? a.value * b.value : a.value / b.value,
    exponents: a.exponents.map((exponent, i) => exponent + sign * b.exponents[i]!) as unknown as Exponents,
    celsius: false,
    bare: a.bare && b.bare,
  };
}

function power(base: Quantity, exponent: Quantity, spelling: string): Quantity {
  if (!isNumber(exponent)) {
    throw new ProblemError(
      'unit-mismatch',
      `the exponent ${quote(spelling)} is ${describeQuantity(exponent)}`,
      'use a plain number',
    );
  }
  if (base.celsius) refuseScale('the base');
  return {
    value: raised(base.value, exponent.value),
    exponents: isNumber(base)
      ? EXPONENTS.number
      : (base.exponents.map((e) => e * exponent.value) as unknown as Exponents),
    celsius: false,
    bare: base.bare && exponent.bare,
  };
}

/** `5 mm`, `(rim/2) mm`, `5 mm^2`: a plain number and the unit right behind it. */
function withUnit(left: ExpressionNode, right: ExpressionNode, scope: Scope): Quantity {
  const unit = unitOf(right, scope);
  if (unit === undefined) {
    const name = right.type === 'name' ? right.name : undefined;
    if (name !== undefined && !scope.has(name) && left.type === 'number') throw unknownUnit(name);
    throw new ProblemError(
      'bad-expression',
      `${quote(`${spell(left)} ${spell(right)}`)} has no operator between its two values`,
      `write \`${spell(left)} * ${spell(right)}\` if a product is meant`,
    );
  }
  const number = evaluate(left, scope);
  if (!isNumber(number)) {
    throw new ProblemError(
      'unit-mismatch',
      `${quote(spell(left))} is ${describeQuantity(number)} already, and \`${spell(right)}\` would be a second unit`,
      `leave out \`${spell(right)}\``,
    );
  }
  if ('name' in unit) return { ...quantityOf(number.value, unit), celsius: unit.offset !== undefined };
  return { ...unit, value: number.value * unit.value };
}

/** The unit that a node names, or its power; undefined for anything else. */
function unitOf(node: ExpressionNode, scope: Scope): Unit | Quantity | undefined {
  if (node.type === 'name') return scope.has(node.name) ? undefined : unitNamed(node.name);
  if (node.type !== 'operation' || node.fn !== 'pow') return undefined;
  const base = unitOf(node.args[0]!, scope);
  if (base === undefined || !('name' in base)) return undefined;
  return power(quantityOf(1, base), evaluate(node.args[1]!, scope), spell(node.args[1]!));
}

/** A factor: a value, or a unit that stands for one of itself, as in `20 * mm`. */
function evaluateOrUnit(node: ExpressionNode, scope: Scope): Quantity {
  if (node.type !== 'name' || scope.has(node.name)) return evaluate(node, scope);
  const unit = unitNamed(node.name);
  if (unit === undefined) return evaluate(node, scope);
  if (unit.offset !== undefined) refuseScale(node.name);
  return quantityOf(1, unit);
}

export function unknownUnit(name: string): ProblemError {
  return new ProblemError(
    'unknown-unit',
    `${quote(name)} is not a supported unit`,
    didYouMean(name, commonUnitNames()) ??
      'use nm, um, mm, cm, m, in, mil, deg, mrad, urad, arcsec, degC, K, Pa, hPa, mbar',
  );
}

function refuseScale(spelling: string): never {
  throw new ProblemError(
    'unit-mismatch',
    `${quote(spelling)} is a temperature in °C, which cannot be multiplied, divided or raised to a power`,
    'use kelvin',
  );
}

function refuseUnitUnderDivision(left: ExpressionNode, right: Operation): never {
  const [number, unit] = right.args.map(spell);
  throw new ProblemError(
    'bad-expression',
    `${quote(`${spell(left)}/${number} ${unit}`)} is ambiguous`,
    `write \`(${spell(left)}/${number}) * 1 ${unit}\` or \`${spell(left)}/(${number} ${unit})\``,
  );
}
